import { DATE_FORMS, type DateOrder, type DateReading, readDate } from './date-cell.ts'
import type { IssueList } from './issue-list.ts'
import type { TableRecord } from './records.ts'
import type { TableOptions } from './types.ts'

/** What the column as a whole settles for its cells. */
interface Column {
  /** As said, else as the first cell with only one reading shows; `null`: nothing shows it. */
  readonly order: DateOrder | null
  readonly takesNumbers: boolean
  readonly allNumbers: boolean
}

/**
 * Places on the time axis; the order of days and months is settled for the column as a whole.
 *
 * @returns One a row, `null` where it is wrong and listed.
 */
export function readDates(
  data: readonly TableRecord[],
  index: number | null,
  header: readonly string[],
  options: TableOptions,
  issues: IssueList,
): (string | null)[] {
  if (index === null) return data.map((_, i) => String(i + 1))
  const name = header[index]!
  const readings = data.map(({ cells }) => readDate(cells[index]!))
  const shown = readings.find((r) => r.kind === 'ordered')
  const column: Column = {
    order: options.dateOrder ?? shown?.order ?? null,
    takesNumbers: options.rowNumbers === 'allow',
    allNumbers: readings.every((r) => r.kind === 'number'),
  }
  // One question about the order is enough.
  let asked = false
  return readings.map((reading, i) => {
    const { line, cells } = data[i]!
    const cell = cells[index]!
    const at = placeOf(reading, column)
    if (at !== null) return at
    const [code, message] = complaint(reading, cell, name, column)
    if (code !== 'import.date_order' || !asked) issues.say(line, name, code, message)
    asked ||= code === 'import.date_order'
    return null
  })
}

function placeOf(reading: DateReading, { order, takesNumbers, allNumbers }: Column): string | null {
  switch (reading.kind) {
    case 'date':
      return reading.at
    case 'ordered':
      return order === reading.order ? reading.at : null
    case 'either':
      if (order === null) return null
      return order === 'day-first' ? reading.dayFirst : reading.monthFirst
    case 'number':
      return allNumbers && takesNumbers ? reading.at : null
    case 'bad':
      return null
  }
}

function complaint(
  reading: DateReading,
  cell: string,
  name: string,
  { order, allNumbers }: Column,
): readonly [code: string, message: string] {
  const shown = `"${cell.length > 40 ? `${cell.slice(0, 40)}…` : cell}"`
  if (cell === '') return ['import.no_date', `The ${name} is empty, expected ${DATE_FORMS}.`]
  if (reading.kind === 'either') {
    return [
      'import.date_order',
      `${shown} could be ${reading.dayFirst} or ${reading.monthFirst}, expected to know the order: say day-first or month-first, or write 2026-03-02.`,
    ]
  }
  if (reading.kind === 'ordered') {
    const wanted = order === 'day-first' ? 'day/month/year' : 'month/day/year'
    return [
      'import.bad_date',
      `${shown} is not ${wanted}, expected that order as in the other lines or as was said.`,
    ]
  }
  if (reading.kind === 'number') {
    const where = allNumbers ? '' : ' among dates'
    return ['import.bad_date', `${shown} is a plain number${where}, expected ${DATE_FORMS}.`]
  }
  const why = reading.kind === 'bad' ? reading.why : 'is not a date'
  return ['import.bad_date', `${shown} ${why}, expected ${DATE_FORMS}.`]
}
