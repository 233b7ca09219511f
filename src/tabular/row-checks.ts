import type { ImportRow } from '../api/import-contract.ts'
import type { DataKind } from '../domain/record.ts'
import type { ColumnPlan } from './guess-columns.ts'
import type { IssueList } from './issue-list.ts'
import type { TableOptions } from './types.ts'

/** What a number must be, by data kind and column. */
interface Demand {
  readonly whole: boolean
  readonly notNegative: boolean
  readonly what: string
}

const COUNT: Demand = { whole: true, notNegative: true, what: 'a whole number, 0 or more' }
const AMOUNT: Demand = { whole: false, notNegative: true, what: 'a number, 0 or more' }
const ANY: Demand = { whole: false, notNegative: false, what: 'a number' }

const VALUE_DEMAND: Readonly<Record<DataKind, Demand>> = {
  single: ANY,
  subgrouped: ANY,
  classified: ANY,
  rates: ANY,
  counts: COUNT,
  'cases-between': COUNT,
  'time-between': AMOUNT,
}

/**
 * Holds each row against what its data kind allows, and the rows against each other.
 *
 * @returns The data kind, decided from the numbers where it was left open.
 */
export function checkRows(
  rows: readonly ImportRow[],
  asked: DataKind | null,
  plan: ColumnPlan,
  header: readonly string[],
  options: TableOptions,
  issues: IssueList,
): DataKind {
  const kind = asked === null || options.dataKind === null ? kindOf(rows, plan, header) : asked
  const name = (role: 'at' | 'value' | 'numerator' | 'denominator') => {
    const index = plan[role]
    return index === null ? null : (header[index] ?? null)
  }
  const demand = (row: ImportRow, role: 'value' | 'numerator' | 'denominator', d: Demand) => {
    const value = row[role]
    if (value === null) return
    const wrong = (d.whole && !Number.isInteger(value)) || (d.notNegative && value < 0)
    if (wrong)
      issues.say(
        row.row,
        name(role),
        'import.out_of_range',
        `${value} is not possible here, expected ${d.what}.`,
      )
  }
  for (const row of rows) {
    demand(row, 'value', VALUE_DEMAND[kind])
    if (kind !== 'classified' && kind !== 'rates') continue
    demand(row, 'numerator', COUNT)
    demand(row, 'denominator', kind === 'classified' ? COUNT : AMOUNT)
    const { numerator, denominator } = row
    if (numerator !== null && denominator === null) {
      issues.say(
        row.row,
        name('denominator'),
        'import.no_denominator',
        `There is a ${name('numerator')} (${numerator}) but no ${name('denominator')}, expected both, or neither where the value is missing.`,
      )
    } else if (
      kind === 'classified' &&
      numerator !== null &&
      denominator !== null &&
      numerator > denominator
    ) {
      issues.say(
        row.row,
        name('numerator'),
        'import.part_over_whole',
        `${numerator} of ${denominator} is more than all, expected ${name('numerator')} to be at most ${name('denominator')}.`,
      )
    } else if (kind === 'rates' && denominator === 0 && numerator !== null && numerator > 0) {
      issues.say(
        row.row,
        name('denominator'),
        'import.out_of_range',
        `${numerator} events in a ${name('denominator')} of 0 is not possible, expected more than 0.`,
      )
    }
  }
  if (kind !== 'subgrouped') checkDates(rows, name('at'), issues)
  return kind
}

/** One date has one value, except in subgroups. */
function checkDates(rows: readonly ImportRow[], column: string | null, issues: IssueList): void {
  const lines = new Map<string, number>()
  for (const { at, row } of rows) {
    if (at === '') continue
    const before = lines.get(at)
    if (before === undefined) lines.set(at, row)
    else
      issues.say(
        row,
        column,
        'import.duplicate_date',
        `Lines ${before} and ${row} both have ${at}, expected each date once.`,
      )
  }
}

/** Parts of wholes, or events in an area of opportunity; single values, or several a date. */
function kindOf(rows: readonly ImportRow[], plan: ColumnPlan, header: readonly string[]): DataKind {
  if (plan.numerator !== null) {
    const whole = plan.denominator === null ? '' : (header[plan.denominator] ?? '')
    const isArea = /(?:^|[^\p{L}])(?:\p{L}*days|hours|area|exposure)(?:$|[^\p{L}])/iu.test(whole)
    const isShare =
      !isArea &&
      rows.every(
        ({ numerator, denominator }) =>
          denominator === null ||
          (Number.isInteger(denominator) && (numerator === null || numerator <= denominator)),
      )
    return isShare ? 'classified' : 'rates'
  }
  const counts = new Map<string, number>()
  for (const { at } of rows) counts.set(at, (counts.get(at) ?? 0) + 1)
  // A few dates that stand twice are mistakes in single values, not subgroups.
  const repeated = [...counts.values()].filter((n) => n > 1).length
  return repeated > 0 && repeated >= counts.size / 2 ? 'subgrouped' : 'single'
}
