import type { ImportRow } from '../api/import-contract.ts'
import { DATE_FORMS, readDate } from './date-cell.ts'
import { givenColumns } from './given-columns.ts'
import {
  type ColumnPlan,
  type ColumnRole,
  guessColumns,
  lookAtColumns,
  ROLES,
} from './guess-columns.ts'
import { type IssueList, issueList } from './issue-list.ts'
import { type Amount, readAmounts } from './read-amounts.ts'
import { readDates } from './read-dates.ts'
import { delimiterOf, recordsOf, type TableRecord, type TextProblem } from './records.ts'
import { checkRows } from './row-checks.ts'
import type { TableOptions, TableReading } from './types.ts'

const MOST_ROWS = 100_000
const MOST_COLUMNS = 200

/**
 * Reads a table of observations: an exported file, cells pasted from a spreadsheet, or typed lines.
 *
 * The delimiter, the header and the columns are found out, and can be given. Everything that is
 * wrong is listed with line and column and what was expected; as long as anything is, no row is
 * given back. What cannot be known (the order of 03/04/2026, whether 1,234 has a thousands mark) is
 * an issue that asks, never a guess.
 *
 * @param text    The whole text.
 * @param options What the numbers are, and answers to what had to be asked.
 * @returns Rows in the order of the text, and either rows or issues: never a part.
 *
 * @example
 * readTable('week,value\n2026-01-05,7', { dataKind: 'single' }).rows.length // => 1
 */
export function readTable(text: string, options: TableOptions): TableReading {
  const delimiter = delimiterOf(text)
  const issues = issueList()
  let header: readonly string[] = []
  let plan: ColumnPlan | null = null
  let rows: ImportRow[] = []
  let dataKind = options.dataKind
  read()
  const found = issues.list()
  return {
    header,
    columns: Object.fromEntries(
      ROLES.map((role) => {
        const index = plan?.[role] ?? null
        return [role, index === null ? null : (header[index] ?? null)]
      }),
    ),
    rows: found.length > 0 ? [] : rows,
    issues: found,
    delimiter,
    dataKind,
  }

  function read(): void {
    const { records, issue } = recordsOf(text, delimiter)
    const problem = issue ?? shapeProblem(records, options)
    if (problem !== null) {
      issues.say(problem.row, null, problem.code, problem.message)
      return
    }
    const hasHeader = isHeader(records)
    const width = hasHeader ? records[0]!.cells.length : widthOf(records)
    header = headerOf(hasHeader ? records[0]! : null, width)
    const data = hasHeader ? records.slice(1) : records
    const given = givenColumns(options, header, hasHeader, issues, records[0]!.line)
    if (issues.any()) return
    const guess = guessColumns({
      header: hasHeader ? header : null,
      looks: lookAtColumns(data, width, options.valueFormat === 'duration'),
      rows: data,
      given,
      dataKind,
      allowsRowNumbers: options.rowNumbers === 'allow',
    })
    plan = guess.plan
    dataKind = guess.dataKind
    for (const role of guess.missing) {
      issues.say(
        records[0]!.line,
        null,
        'import.which_column',
        whichColumn(role, guess.candidates, header),
      )
    }
    if (issues.any()) return
    rows = rowsOf(data, guess.plan, header, options, issues)
    dataKind = checkRows(rows, dataKind, guess.plan, header, options, issues)
  }
}

const widthOf = (records: readonly TableRecord[]) =>
  records.slice(0, 1000).reduce((most, { cells }) => Math.max(most, cells.length), 0)

/** Too little or too much to be a table. */
function shapeProblem(records: readonly TableRecord[], options: TableOptions): TextProblem | null {
  const [first] = records
  if (first === undefined) {
    const message = 'There is nothing here, expected a table with a date and a value in each line.'
    return { row: 1, code: 'import.empty', message }
  }
  const width = widthOf(records)
  if (width > MOST_COLUMNS) {
    const message = `There are ${width} columns, expected at most ${MOST_COLUMNS}.`
    return { row: first.line, code: 'import.too_many_columns', message }
  }
  if (width > 1 && first.cells.filter((cell) => cell !== '').length === 1 && records.length > 2) {
    const message = `Line ${first.line} has one cell and the lines below ${width}, expected the names of the columns. Leave out what stands above the table.`
    return { row: first.line, code: 'import.title_line', message }
  }
  const data = isHeader(records) ? records.slice(1) : records
  const most = options.maxRows ?? MOST_ROWS
  if (data.length === 0) {
    const message = 'There is a header but no line of data, expected at least one.'
    return { row: first.line, code: 'import.no_rows', message }
  }
  if (data.length <= most) return null
  const message = `There are ${count(data.length)} lines of data, expected at most ${count(most)}.`
  return { row: data[most]!.line, code: 'import.too_many_rows', message }
}

const count = (n: number) => n.toLocaleString('en-GB')

/** A first line with no date and no number in it, over lines that have some. */
function isHeader(records: readonly TableRecord[]): boolean {
  const hasData = (record: TableRecord | undefined) =>
    record?.cells.some(
      (cell) => /\d/.test(cell) && (readDate(cell).kind !== 'bad' || /^[\s\d.,:%+-]+$/.test(cell)),
    )
  return !hasData(records[0])
}

/** Names as they stand, or numbers for columns without one. */
function headerOf(record: TableRecord | null, width: number): string[] {
  return Array.from({ length: width }, (_, i) => {
    const name = record?.cells[i] ?? ''
    return name === '' ? String(i + 1) : name
  })
}

const ROLE_NAMES: Readonly<Record<ColumnRole, string>> = {
  at: 'dates',
  value: 'values',
  numerator: 'numerators (how many of them)',
  denominator: 'denominators (of how many)',
  note: 'notes',
}

function whichColumn(
  role: ColumnRole,
  candidates: readonly number[],
  header: readonly string[],
): string {
  const names = candidates.map((i) => `"${header[i]}"`).join(', ')
  const which = candidates.length > 1 ? ` It could be ${names}.` : ''
  const forms = role === 'at' ? ` Expected a column with ${DATE_FORMS}.` : ''
  return `It is not clear which column holds the ${ROLE_NAMES[role]}, expected one.${which}${forms} Say which.`
}

function rowsOf(
  data: readonly TableRecord[],
  plan: ColumnPlan,
  header: readonly string[],
  options: TableOptions,
  issues: IssueList,
): ImportRow[] {
  const needed = [plan.at, plan.value, plan.numerator, plan.denominator].filter((i) => i !== null)
  const last = Math.max(...needed)
  const whole = data.filter((record) => {
    const { line, cells } = record
    if (cells.length <= last) {
      issues.say(
        line,
        null,
        'import.short_row',
        `Line ${line} has ${cells.length} cells, expected at least ${last + 1}.`,
      )
      return false
    }
    const extra = cells.findIndex((cell, i) => i >= header.length && cell !== '')
    if (extra !== -1) {
      issues.say(
        line,
        String(extra + 1),
        'import.long_row',
        `Line ${line} has ${cells.length} cells, expected ${header.length}. Put quotation marks round text with the delimiter in it.`,
      )
      return false
    }
    return true
  })
  const at = readDates(whole, plan.at, header, options, issues)
  const amounts = (role: 'value' | 'numerator' | 'denominator'): readonly Amount[] | null => {
    const index = plan[role]
    if (index === null) return null
    return readAmounts(whole, index, header[index]!, {
      decimalMark: options.decimalMark ?? null,
      isDuration: role === 'value' && options.valueFormat === 'duration',
      percent: role === 'value' ? 'keep' : 'refuse',
      issues,
    })
  }
  const values = amounts('value')
  const numerators = amounts('numerator')
  const denominators = amounts('denominator')
  return whole.map(({ line, cells }, i) => ({
    row: line,
    at: at[i] ?? '',
    value: values?.[i] ?? null,
    numerator: numerators?.[i] ?? null,
    denominator: denominators?.[i] ?? null,
    note: plan.note === null ? '' : (cells[plan.note] ?? ''),
  }))
}
