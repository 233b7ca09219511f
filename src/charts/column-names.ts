import { shorten, textWidth, wrapText } from './text-width.ts'

/** Names under the columns of a picture. */
export interface ColumnNames {
  /** Rows of text that they take. */
  readonly rows: 1 | 2
  /** Every other name stands one row lower, so that each has the room of two columns. */
  readonly staggered: boolean
  /** Lines of each name: one, or two where none is staggered. */
  readonly lines: readonly (readonly string[])[]
}

/** Em kept free between names of one row; a thin line to the row below passes there. */
const GAP = 0.5

/**
 * How names stand whole under their columns: on one line where all fit, else on two lines each, else
 * staggered on two rows. Only what is longer than two columns is shortened.
 *
 * @param names  One a column.
 * @param column Width of a column in pixels.
 * @param size   Font size in pixels; names are bold.
 *
 * @example
 * columnNames(['Wren', 'Theatre Recovery'], 110, 20).lines // => [['Wren'], ['Theatre', 'Recovery']]
 */
export function columnNames(names: readonly string[], column: number, size: number): ColumnNames {
  const room = column - GAP * size
  const fits = (line: string) => textWidth(line, size, true) <= room
  if (names.every(fits)) return { rows: 1, staggered: false, lines: names.map((name) => [name]) }
  const wrapped = names.map((name) => wrapText(name, Math.max(room, 0), size, 2, true))
  const whole = wrapped.every(
    (lines, i) => lines.join(' ') === names[i]!.trim().replace(/\s+/g, ' '),
  )
  if (whole) return { rows: 2, staggered: false, lines: wrapped }
  const two = 2 * column - GAP * size
  return {
    rows: 2,
    staggered: true,
    lines: names.map((name) => [shorten(name, two, size, true)]),
  }
}
