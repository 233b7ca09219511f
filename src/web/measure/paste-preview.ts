import type { CellKey, GridColumn } from './grid-columns.ts'
import { EMPTY_CELLS, type GridRow, type RowKind, type RowReading, readRow } from './grid-row.ts'
import { parseBlock } from './paste.ts'
import { READER_ORDER, showDate } from './show-date.ts'

/** What a pasted block would do, before it does it. */
export interface PastePreview {
  /** Rows to put in, without a header. */
  readonly block: readonly (readonly string[])[]
  /** The header line that was found and is left out. */
  readonly header: readonly string[] | null
  /** What each column of the block goes to. */
  readonly keys: readonly CellKey[]
  /** Columns of the block for which the grid has none. */
  readonly spare: number
  /** Rows that hold something now and would be written over. */
  readonly over: number
  readonly readings: readonly RowReading[]
}

/**
 * Look at a pasted block before it goes in: a line of names on top is left out, each row is read
 * together with what the grid already holds beside it.
 *
 * @param start Row and column of the cell it is pasted at.
 */
export function previewPaste(
  measure: RowKind,
  columns: readonly GridColumn[],
  rows: readonly GridRow[],
  start: { readonly row: number; readonly column: number },
  text: string,
): PastePreview {
  const cells = parseBlock(text, columns[start.column]?.key === 'at')
  const width = Math.max(0, ...cells.map((row) => row.length))
  const keys = columns.slice(start.column, start.column + width).map((column) => column.key)

  const read = (texts: readonly string[], index: number): RowReading => {
    const old = rows[start.row + index]
    const filled = { ...(old?.cells ?? EMPTY_CELLS) }
    keys.forEach((key, i) => {
      filled[key] = texts[i] ?? filled[key]
    })
    const row: GridRow = {
      id: old?.id ?? '',
      cells: filled,
      leftOutReason: old?.leftOutReason ?? null,
      record: old?.record ?? null,
    }
    return readRow(measure, row, READER_ORDER, showDate)
  }

  const header = cells.length > 1 && isHeader(cells[0]!, keys) ? cells[0]! : null
  const block = header === null ? cells : cells.slice(1)
  const over = rows
    .slice(start.row, start.row + block.length)
    .filter((row) => keys.some((key) => row.cells[key].trim() !== '')).length
  return {
    block,
    header,
    keys,
    spare: Math.max(0, width - keys.length),
    over,
    readings: block.map(read),
  }
}

/** Names rather than data: no cell that ought to hold a date or a number has a digit. */
function isHeader(texts: readonly string[], keys: readonly CellKey[]): boolean {
  const told = keys
    .map((key, i) => [key, texts[i] ?? ''] as const)
    .filter(([key]) => key !== 'note')
  return told.length > 0 && told.some(([, t]) => t !== '') && told.every(([, t]) => !/\d/.test(t))
}
