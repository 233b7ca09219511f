import { parseDuration } from '../domain/duration.ts'
import { AppError } from '../errors.ts'
import type { IssueList } from './issue-list.ts'
import { type DecimalMark, readNumber } from './number-cell.ts'
import type { TableRecord } from './records.ts'

/** `null`: missing, or wrong and listed. */
export type Amount = number | null

export interface AmountOptions {
  readonly decimalMark: DecimalMark | null
  readonly isDuration: boolean
  /** Percent signs: kept as the number before the sign where every cell has one, or refused. */
  readonly percent: 'keep' | 'refuse'
  readonly issues: IssueList
}

/** The numbers of one column; what one cell leaves open, the others of its column may settle. */
export function readAmounts(
  rows: readonly TableRecord[],
  index: number,
  column: string,
  options: AmountOptions,
): Amount[] {
  return options.isDuration
    ? readDurations(rows, index, column, options.issues)
    : readNumbers(rows, index, column, options)
}

function readNumbers(
  rows: readonly TableRecord[],
  index: number,
  column: string,
  { decimalMark, percent, issues }: AmountOptions,
): Amount[] {
  const readings = rows.map(({ cells }) => readNumber(cells[index]!))
  const marks = new Set(readings.flatMap((r) => (r.kind === 'number' && r.mark ? [r.mark] : [])))
  const known = readings.filter((r) => r.kind === 'number' || r.kind === 'either')
  const withSign = known.filter((r) => r.percent).length
  const mixedSigns = withSign > 0 && withSign < known.length
  return readings.map((reading, i) => {
    const { line, cells } = rows[i]!
    const cell = clip(cells[index]!)
    const say = (code: string, message: string): null => {
      issues.say(line, column, code, message)
      return null
    }
    if (reading.kind === 'missing') return null
    if (reading.kind === 'bad') {
      return say(
        'import.bad_number',
        `"${cell}" is not a number, expected one such as 12 or 3.5, or an empty cell where it is missing.`,
      )
    }
    if (reading.percent && percent === 'refuse') {
      return say('import.percent', `"${cell}" is a percentage, expected a count.`)
    }
    if (mixedSigns && !reading.percent) {
      return say(
        'import.percent',
        `"${cell}" has no percent sign but other cells of "${column}" have, expected all or none.`,
      )
    }
    if (reading.kind === 'either') {
      // Decimal commas elsewhere in the column, and no point, settle it.
      const settled =
        decimalMark ??
        (marks.size === 1 && marks.has('comma') && cell.includes(',') ? 'comma' : null)
      const natural = settled ?? (cell.includes('.') && !marks.has('comma') ? 'point' : null)
      if (natural !== null) return natural === 'point' ? reading.asPoint : reading.asComma
      return say(
        'import.thousands',
        `"${cell}" could be ${reading.asPoint} or ${reading.asComma}, expected to know whether the mark separates decimals: write it without a thousands mark, or say which mark is the decimal one.`,
      )
    }
    const wanted = decimalMark ?? (marks.size > 1 ? 'point' : null)
    if (wanted !== null && reading.mark !== null && reading.mark !== wanted) {
      return say(
        'import.decimal_mark',
        `"${cell}" has a decimal ${reading.mark}, expected a decimal ${wanted} as in other cells of "${column}" or as was said.`,
      )
    }
    return reading.value
  })
}

function readDurations(
  rows: readonly TableRecord[],
  index: number,
  column: string,
  issues: IssueList,
): Amount[] {
  const readings = rows.map(({ cells }) => {
    const cell = cells[index]!
    if (readNumber(cell).kind === 'missing') return null
    try {
      return parseDuration(cell)
    } catch (error) {
      if (error instanceof AppError) return error
      throw error
    }
  })
  // One three-digit number that cannot be minutes and seconds shows that all are seconds.
  const someSurelySeconds = rows.some(({ cells }, i) => {
    const reading = readings[i]
    if (reading === null || reading === undefined || reading instanceof AppError) return false
    return /^\d{3,}(?:\.\d+)?$/.test(cells[index]!) && reading.perhaps === null
  })
  return readings.map((reading, i) => {
    const { line, cells } = rows[i]!
    if (reading === null) return null
    if (reading instanceof AppError) {
      issues.say(
        line,
        column,
        'import.bad_duration',
        `${reading.message} Expected a time such as 1:02, 62 s or 1 min 2 s.`,
      )
      return null
    }
    if (reading.perhaps !== null && !someSurelySeconds) {
      issues.say(
        line,
        column,
        'import.perhaps_clock',
        `"${clip(cells[index]!)}" could be ${reading.seconds} seconds or a stopwatch at ${clock(reading.perhaps)}, expected to know which: write ${reading.seconds} s or ${clock(reading.perhaps)}.`,
      )
      return null
    }
    return reading.seconds
  })
}

const clock = (seconds: number) =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`
const clip = (cell: string) => (cell.length > 40 ? `${cell.slice(0, 40)}…` : cell)
