import type { DataKind } from '../domain/record.ts'
import { readDate } from './date-cell.ts'
import { readNumber } from './number-cell.ts'
import type { TableRecord } from './records.ts'

export const ROLES = ['at', 'value', 'numerator', 'denominator', 'note'] as const
export type ColumnRole = (typeof ROLES)[number]

/** Index of the column of each role; `null`: none. */
export type ColumnPlan = Readonly<Record<ColumnRole, number | null>>

const NAMES: Readonly<Record<ColumnRole, readonly string[]>> = {
  at: 'date|dates|day|week|week beginning|week starting|week commencing|week ending|wc|month|quarter|year|period|when|observed|observed on|date time|datetime|timestamp|row|row number|no|nr|sample|subgroup|observation|trial|round|point|index'.split(
    '|',
  ),
  value:
    'value|values|measurement|result|reading|score|minutes|seconds|hours|duration|time|rate|mean|average|length|weight|temperature|wait|waiting time|y'.split(
      '|',
    ),
  numerator:
    'numerator|num|count|counts|number|events|deaths|cases|infections|falls|defects|defectives|defective|errors|failures|nonconforming|incidents|harms|complete|completed|done|met|compliant|yes|right|correct|sent|successes|readmissions'.split(
      '|',
    ),
  denominator:
    'denominator|denom|den|n|total|totals|of|out of|births|patients|admissions|discharges|attendances|opportunities|inspected|audited|checked|seen|eligible|population|sample size|size|exposure|area|bed days|beddays|line days|device days|patient days|catheter days|ventilator days|visits|operations|procedures|deliveries|all'.split(
      '|',
    ),
  note: 'note|notes|comment|comments|remark|remarks|reason|annotation'.split('|'),
}

/** Rows looked at to see what a column holds. */
const SAMPLE = 200

/** What the cells of one column look like. */
export interface ColumnLook {
  readonly index: number
  /** Shares of the cells that are not empty. */
  readonly dates: number
  readonly numbers: number
  readonly filled: number
}

/** Looks at each column: how many cells are dates, how many numbers. */
export function lookAtColumns(
  rows: readonly TableRecord[],
  width: number,
  isDuration: boolean,
): ColumnLook[] {
  const sample = rows.slice(0, SAMPLE)
  return Array.from({ length: width }, (_, index) => {
    let dates = 0
    let numbers = 0
    let filled = 0
    for (const { cells } of sample) {
      const cell = cells[index] ?? ''
      const number = readNumber(cell)
      if (number.kind === 'missing') continue
      filled++
      const date = readDate(cell)
      if (date.kind !== 'bad' && date.kind !== 'number') dates++
      if (number.kind !== 'bad' || (isDuration && looksLikeDuration(cell))) numbers++
    }
    const share = (n: number) => (filled === 0 ? 0 : n / filled)
    return { index, dates: share(dates), numbers: share(numbers), filled }
  })
}

const looksLikeDuration = (cell: string) => /^\s*\d[\d:.,\shminsec]*$/i.test(cell)

/** A column whose name asks for this role; an exact name wins over one that contains the word. */
function named(
  role: ColumnRole,
  header: readonly string[] | null,
  free: readonly number[],
): number | null {
  if (header === null) return null
  const plain = (name: string) =>
    name
      .toLowerCase()
      .replace(/[^\p{L}\p{N}#]+/gu, ' ')
      .trim()
  const names = NAMES[role]
  const exact = free.filter(
    (i) => names.includes(plain(header[i]!)) || (role === 'at' && plain(header[i]!) === '#'),
  )
  if (exact.length > 0) return exact[0]!
  const within = free.filter((i) => {
    const words = ` ${plain(header[i]!)} `
    return names.some((name) => name.length > 2 && words.includes(` ${name} `))
  })
  return within.length === 1 ? within[0]! : null
}

export interface Guess {
  readonly plan: ColumnPlan
  readonly dataKind: DataKind | null
  /** Columns that could each be the one that is missing. */
  readonly candidates: readonly number[]
  readonly missing: readonly ColumnRole[]
}

export interface GuessInput {
  readonly header: readonly string[] | null
  readonly looks: readonly ColumnLook[]
  readonly rows: readonly TableRecord[]
  /** Columns somebody named. */
  readonly given: Partial<Record<ColumnRole, number>>
  readonly dataKind: DataKind | null
  readonly allowsRowNumbers: boolean
}

/**
 * Which column holds what: as given, else by name, else by content. Where several columns would do
 * and no name decides, none is taken and all are listed.
 */
export function guessColumns(input: GuessInput): Guess {
  const { header, looks, given, dataKind, allowsRowNumbers } = input
  const plan: Record<ColumnRole, number | null> = {
    at: given.at ?? null,
    value: given.value ?? null,
    numerator: given.numerator ?? null,
    denominator: given.denominator ?? null,
    note: given.note ?? null,
  }
  const free = () => looks.map((l) => l.index).filter((i) => !Object.values(plan).includes(i))
  const numeric = () => free().filter((i) => looks[i]!.numbers >= 0.5 && looks[i]!.dates < 0.5)
  // A date is recognised by what is in the column before what stands above it.
  const dated = () => free().filter((i) => looks[i]!.dates >= 0.5)
  plan.at ??= dated().length === 1 ? dated()[0]! : named('at', header, dated())
  plan.at ??= dated()[0] ?? named('at', header, free())
  plan.note ??= named(
    'note',
    header,
    free().filter((i) => looks[i]!.numbers < 1 || looks[i]!.filled === 0),
  )

  const pair = wantsPair(dataKind, plan, header, numeric())
  if (plan.at === null && allowsRowNumbers)
    plan.at = rowNumberColumn(numeric(), pair ? 2 : 1, input.rows)
  if (pair) fillPair(plan, header, free, numeric, input.rows)
  else {
    plan.value ??= named('value', header, numeric()) ?? named('numerator', header, numeric())
    if (plan.value === null && numeric().length === 1) plan.value = numeric()[0]!
    // A column of nothing but mistakes is still the one with its name, or the only one left.
    if (plan.value === null && numeric().length === 0)
      plan.value = named('value', header, free()) ?? (free().length === 1 ? free()[0]! : null)
  }
  const wanted: readonly ColumnRole[] = pair ? ['numerator', 'denominator'] : ['value']
  const missing = wanted.filter((role) => plan[role] === null)
  if (plan.at === null && !allowsRowNumbers) missing.unshift('at')
  return {
    plan,
    dataKind: dataKind ?? (pair ? null : 'single'),
    candidates: missing.length > 0 ? numeric() : [],
    missing,
  }
}

function wantsPair(
  dataKind: DataKind | null,
  plan: ColumnPlan,
  header: readonly string[] | null,
  numeric: readonly number[],
): boolean {
  if (dataKind !== null) return dataKind === 'classified' || dataKind === 'rates'
  if (plan.numerator !== null || plan.denominator !== null) return true
  if (plan.value !== null || numeric.length < 2) return false
  const denominator = named('denominator', header, numeric)
  if (denominator !== null)
    return (
      named(
        'value',
        header,
        numeric.filter((i) => i !== denominator),
      ) === null
    )
  return header === null && numeric.length === 2
}

function fillPair(
  plan: Record<ColumnRole, number | null>,
  header: readonly string[] | null,
  free: () => readonly number[],
  numeric: () => readonly number[],
  rows: readonly TableRecord[],
): void {
  plan.denominator ??=
    named('denominator', header, numeric()) ?? named('denominator', header, free())
  plan.numerator ??= named('numerator', header, numeric()) ?? named('numerator', header, free())
  const rest = numeric()
  if (plan.numerator !== null && plan.denominator === null && rest.length === 1)
    plan.denominator = rest[0]!
  else if (plan.denominator !== null && plan.numerator === null && rest.length === 1)
    plan.numerator = rest[0]!
  else if (plan.numerator === null && plan.denominator === null && rest.length === 2) {
    const [a, b] = rest as [number, number]
    // Parts are never more than wholes, so the smaller column is the numerator.
    const swap = neverMore(rows, b, a) && !neverMore(rows, a, b)
    plan.numerator = swap ? b : a
    plan.denominator = swap ? a : b
  }
}

function neverMore(rows: readonly TableRecord[], a: number, b: number): boolean {
  return rows.slice(0, SAMPLE).every(({ cells }) => {
    const x = readNumber(cells[a] ?? '')
    const y = readNumber(cells[b] ?? '')
    return x.kind !== 'number' || y.kind !== 'number' || x.value <= y.value
  })
}

/** A spare column of rising whole numbers, before those that are needed for values. */
function rowNumberColumn(
  numeric: readonly number[],
  needed: number,
  rows: readonly TableRecord[],
): number | null {
  if (numeric.length <= needed) return null
  const index = numeric[0]!
  let before = -1
  for (const { cells } of rows.slice(0, SAMPLE)) {
    const cell = cells[index] ?? ''
    if (!/^\d{1,9}$/.test(cell) || Number(cell) < before) return null
    before = Number(cell)
  }
  return index
}
