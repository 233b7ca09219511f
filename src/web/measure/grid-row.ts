import type { SaveObservation } from '../../api/contract.ts'
import type { Id, Measure, Observation } from '../../domain/record.ts'
import { editableValue, parseNumber } from '../../domain/value-text.ts'
import { type DateOrder, readDate } from './date-entry.ts'
import { type CellKey, type Cells, hasDenominator } from './grid-columns.ts'
import { type EntryChoice, readEntry } from './number-entry.ts'

/** The parts of a measure that decide how its rows are written and read. */
export type RowKind = Pick<Measure, 'dataKind' | 'valueFormat' | 'unitLabel'>

/** One row of the data grid: what is typed, beside what is stored. */
export interface GridRow {
  readonly id: Id
  readonly cells: Cells
  readonly leftOutReason: string | null
  /** As stored when it was read; `null`: a new row. */
  readonly record: Observation | null
  /** Somebody else saved this row since: their version, until the person says which one stays. */
  readonly theirs?: Observation
}

export interface CellIssue {
  readonly key: CellKey
  readonly message: string
  /** The number reads two ways: text for each, which reads one way only. */
  readonly choices?: readonly [EntryChoice, EntryChoice] | undefined
}

export const EMPTY_CELLS: Cells = { at: '', value: '', numerator: '', denominator: '', note: '' }

/** How dates are shown in the grid; text that `readDate` gives back. */
export type ShowDate = (at: string) => string

/** The text of a stored row. */
export function cellsOf(measure: RowKind, record: Observation, showDate: ShowDate): Cells {
  return {
    at: showDate(record.at),
    // A share has no value column; a plain number is written so that nothing of it is lost.
    value:
      record.value === null ? '' : editableValue({ ...measure, dataKind: 'single' }, record.value),
    numerator: record.numerator === null ? '' : String(record.numerator),
    denominator: record.denominator === null ? '' : String(record.denominator),
    note: record.note,
  }
}

export function rowOf(measure: RowKind, record: Observation, showDate: ShowDate): GridRow {
  return {
    id: record.id,
    cells: cellsOf(measure, record, showDate),
    leftOutReason: record.leftOutReason,
    record,
  }
}

export function isBlank(row: GridRow): boolean {
  return row.record === null && Object.values(row.cells).every((text) => text.trim() === '')
}

/** What can be stored of a row, or what stands in its way. */
export interface RowReading {
  readonly save: SaveObservation | null
  readonly issues: readonly CellIssue[]
}

/**
 * Read a row. A cell whose text is as it was shown keeps the stored value to its last decimal.
 */
export function readRow(
  measure: RowKind,
  row: GridRow,
  order: DateOrder,
  showDate: ShowDate,
): RowReading {
  const issues: CellIssue[] = []
  const { cells, record } = row
  const shown = record === null ? null : cellsOf(measure, record, showDate)
  const same = (key: CellKey) => record !== null && shown![key] === cells[key]

  let at = record?.at ?? ''
  if (!same('at')) {
    const reading = readDate(cells.at, order)
    if (reading.ok) at = reading.at
    else issues.push({ key: 'at', message: reading.message })
  }

  const number = (key: 'value' | 'numerator' | 'denominator'): number | null => {
    if (same(key)) return record![key]
    const text = cells[key].trim()
    if (text === '') return null
    const { value, issue } = readNumber(measure, key, text)
    if (issue !== null) issues.push(issue)
    return value
  }

  const counted = hasDenominator(measure.dataKind)
  const value = counted ? (record?.value ?? null) : number('value')
  const numerator = counted ? number('numerator') : (record?.numerator ?? null)
  const denominator = counted ? number('denominator') : (record?.denominator ?? null)
  if (counted) issues.push(...countIssues(measure, numerator, denominator, issues))

  if (issues.length > 0) return { save: null, issues }
  return {
    issues,
    save: {
      id: row.id,
      cycleId: record?.cycleId ?? null,
      trialId: record?.trialId ?? null,
      at,
      value,
      numerator,
      denominator,
      note: cells.note.trim(),
      leftOutReason: row.leftOutReason,
      ...(record === null ? {} : { version: record.version }),
    },
  }
}

function readNumber(
  measure: RowKind,
  key: CellKey,
  text: string,
): { value: number | null; issue: CellIssue | null } {
  const fail = (message: string) => ({ value: null, issue: { key, message } })
  if (measure.dataKind === 'single' && measure.valueFormat === 'duration') {
    const reading = readEntry(measure, text)
    if (reading.kind === 'value') return { value: reading.value, issue: null }
    if (reading.kind === 'error') return fail(reading.message)
    if (reading.kind === 'blank') return { value: null, issue: null }
    const { message, choices } = reading
    return { value: null, issue: { key, message, choices } }
  }
  const value = parseNumber(text)
  if (value === null) return fail(`“${text}” is not a number. Write it like 12 or 12.5.`)
  const whole = measure.dataKind === 'classified' || measure.dataKind === 'counts'
  if (whole && !Number.isInteger(value)) {
    return fail(`“${text}” is not a whole number; items are counted one by one.`)
  }
  if (key === 'numerator' && measure.dataKind === 'rates' && !Number.isInteger(value)) {
    return fail(`“${text}” is not a whole number; events are counted one by one.`)
  }
  const signed = measure.dataKind === 'single' || measure.dataKind === 'subgrouped'
  if (!signed && value < 0) return fail(`“${text}” is below zero, which this measure cannot be.`)
  return { value, issue: null }
}

function countIssues(
  measure: RowKind,
  numerator: number | null,
  denominator: number | null,
  found: readonly CellIssue[],
): CellIssue[] {
  const unread = (key: CellKey) => found.some((issue) => issue.key === key)
  if (unread('numerator') || unread('denominator')) return []
  if (numerator !== null && denominator === null) {
    return [{ key: 'denominator', message: 'Out of how many? Write the number beside it.' }]
  }
  if (numerator === null && denominator !== null && denominator > 0) {
    return [{ key: 'numerator', message: 'How many were there? Write 0 for none.' }]
  }
  if (
    measure.dataKind === 'classified' &&
    numerator !== null &&
    denominator !== null &&
    numerator > denominator
  ) {
    return [
      { key: 'numerator', message: `${numerator} of ${denominator} is more than all of them.` },
    ]
  }
  return []
}

/** Whether a row holds something that is not stored yet. */
export function isChanged(measure: RowKind, row: GridRow, showDate: ShowDate): boolean {
  if (row.record === null) return !isBlank(row)
  if (row.leftOutReason !== row.record.leftOutReason) return true
  const shown = cellsOf(measure, row.record, showDate)
  return (Object.keys(shown) as CellKey[]).some((key) => shown[key] !== row.cells[key])
}
