import { AppError } from '../errors.ts'
import type { ChartKind, Series } from './types.ts'

/** A series as typed arrays, checked, with NaN for a gap. */
export interface Columns {
  readonly n: number
  /** What is plotted before any transformation, in the chart's unit; NaN at a gap. */
  readonly values: Float64Array
  /** NaN where there is none. */
  readonly numerators: Float64Array | null
  readonly denominators: Float64Array | null
  readonly subgroups: readonly (readonly number[] | null)[] | null
  /** 1 where the point counts towards centre, limits and rules. */
  readonly counts: Uint8Array
  /** Points with a denominator of zero. */
  readonly zeroDenominators: number
}

/** Charts whose points are whole numbers of things counted. */
const COUNTED: ReadonlySet<ChartKind> = new Set(['p', 'p-prime', 'c', 'u', 'u-prime', 'g'])
const FRACTION_KINDS: ReadonlySet<ChartKind> = new Set(['p', 'p-prime', 'u', 'u-prime'])
const SUBGROUP_KINDS: ReadonlySet<ChartKind> = new Set(['xbar-s', 'xbar-r'])

/**
 * Check a series for a kind of chart and turn it into typed arrays.
 *
 * @param series Columns of equal length n >= 1, in time order.
 * @param kind   The chart they are for; decides which columns are needed and what they may hold.
 * @param per    Rates are given per this many units of area; > 0.
 * @returns The columns; gaps (missing, or a denominator of zero) are NaN.
 * @throws AppError `stats.empty`, `stats.length_mismatch`, `stats.missing_column`,
 *   `stats.not_finite`, `stats.negative_count`, `stats.negative_denominator`,
 *   `stats.negative_time`, `stats.not_whole`, `stats.numerator_over_denominator`,
 *   `stats.bad_index`, `stats.out_of_range` (beyond 1e100, or a count beyond 1e12). Each names the position.
 *
 * @example
 * columnsOf({ at: ['1'], numerators: [1], denominators: [4] }, 'p', 1).values[0] // => 0.25
 */
export function columnsOf(series: Series, kind: ChartKind, per: number): Columns {
  const n = series.at.length
  if (n === 0) {
    throw new AppError(
      'stats.empty',
      'The series has no points.',
      'Add at least one point: a label and a value.',
    )
  }
  for (const name of ['values', 'numerators', 'denominators', 'subgroups'] as const) {
    const length = series[name]?.length
    if (length === undefined || length === n) continue
    throw new AppError(
      'stats.length_mismatch',
      `There are ${n} labels but ${length} ${name}.`,
      'Give every point a label, and null where a value is missing.',
      { column: name, labels: n, length },
    )
  }

  const counts = new Uint8Array(n).fill(1)
  for (const { index } of series.leftOut ?? []) {
    if (!Number.isInteger(index) || index < 0 || index >= n) {
      throw new AppError(
        'stats.bad_index',
        `The point to leave out, number ${index}, is not one of the ${n} points (0 to ${n - 1}).`,
        'Give the zero-based position of a point of this series.',
        { index, n },
      )
    }
    counts[index] = 0
  }

  const whole = COUNTED.has(kind)
  let columns: Omit<Columns, 'n' | 'counts'>
  if (SUBGROUP_KINDS.has(kind)) columns = subgroupColumns(series, kind)
  else if (FRACTION_KINDS.has(kind) || usesFractions(series))
    columns = fractionColumns(series, kind, per)
  else if (series.values !== undefined) columns = valueColumns(series.values, kind, whole)
  else if (series.subgroups !== undefined) columns = subgroupColumns(series, kind)
  else if (series.numerators !== undefined && whole)
    columns = valueColumns(series.numerators, kind, whole)
  else throw missing(kind, 'values')

  for (let i = 0; i < n; i++) if (Number.isNaN(columns.values[i]!)) counts[i] = 0
  return { n, counts, ...columns }
}

function usesFractions(series: Series): boolean {
  return (
    series.values === undefined &&
    series.numerators !== undefined &&
    series.denominators !== undefined
  )
}

function valueColumns(
  given: readonly (number | null)[],
  kind: ChartKind,
  whole: boolean,
): Omit<Columns, 'n' | 'counts'> {
  const values = new Float64Array(given.length)
  for (let i = 0; i < given.length; i++) {
    const value = given[i] ?? null
    if (value === null) {
      values[i] = Number.NaN
      continue
    }
    checkFinite(value, i, given.length)
    if (whole) checkCount(value, i, kind)
    if (kind === 't' && value < 0) {
      throw new AppError(
        'stats.negative_time',
        `Point ${i + 1} is ${value}: a time between two events cannot be negative.`,
        'Check the order of the events.',
        { index: i, value },
      )
    }
    values[i] = value
  }
  return { values, numerators: null, denominators: null, subgroups: null, zeroDenominators: 0 }
}

function fractionColumns(
  series: Series,
  kind: ChartKind,
  per: number,
): Omit<Columns, 'n' | 'counts'> {
  if (series.numerators === undefined) throw missing(kind, 'numerators')
  if (series.denominators === undefined) throw missing(kind, 'denominators')
  const n = series.at.length
  const proportion = kind === 'p' || kind === 'p-prime'
  const counted = FRACTION_KINDS.has(kind)
  const scale = proportion ? 1 : per
  const values = new Float64Array(n).fill(Number.NaN)
  const numerators = new Float64Array(n).fill(Number.NaN)
  const denominators = new Float64Array(n).fill(Number.NaN)
  let zeroDenominators = 0
  for (let i = 0; i < n; i++) {
    const top = series.numerators[i] ?? null
    const bottom = series.denominators[i] ?? null
    if (top !== null) {
      checkFinite(top, i, n, 'numerator')
      if (counted) checkCount(top, i, kind)
      numerators[i] = top
    }
    if (bottom !== null) {
      checkFinite(bottom, i, n, 'denominator')
      if (bottom < 0) {
        throw new AppError(
          'stats.negative_denominator',
          `The denominator of point ${i + 1} is ${bottom}.`,
          'A denominator counts items or measures area: give zero or more.',
          { index: i, value: bottom },
        )
      }
      if (proportion && !Number.isInteger(bottom)) throw notWhole(bottom, i, 'denominator')
      if (counted && bottom > MOST_COUNT) throw tooLarge(bottom, i, 'denominator', MOST_COUNT)
      denominators[i] = bottom
    }
    if (top === null || bottom === null) continue
    if (proportion && top > bottom) {
      throw new AppError(
        'stats.numerator_over_denominator',
        `Point ${i + 1} has ${top} of ${bottom}: more than there are.`,
        'Check the two columns; for a rate whose count can exceed its area use a U chart.',
        { index: i, numerator: top, denominator: bottom },
      )
    }
    if (bottom === 0) zeroDenominators++
    else values[i] = (top / bottom) * scale
    if (Math.abs(values[i]!) > MOST_VALUE) throw tooLarge(values[i]!, i, 'ratio', MOST_VALUE)
  }
  return { values, numerators, denominators, subgroups: null, zeroDenominators }
}

function subgroupColumns(series: Series, kind: ChartKind): Omit<Columns, 'n' | 'counts'> {
  const given = series.subgroups
  if (given === undefined) throw missing(kind, 'subgroups')
  const n = given.length
  const values = new Float64Array(n).fill(Number.NaN)
  for (let i = 0; i < n; i++) {
    const group = given[i] ?? null
    if (group === null || group.length === 0) continue
    let sum = 0
    for (const value of group) {
      checkFinite(value, i, n)
      sum += value
    }
    values[i] = sum / group.length
  }
  return { values, numerators: null, denominators: null, subgroups: given, zeroDenominators: 0 }
}

/** Larger than any measurement; squares and sums of such numbers still fit. */
const MOST_VALUE = 1e100
/** Counts above this are no longer told apart by every step of the arithmetic. */
const MOST_COUNT = 1e12

function checkFinite(value: number, i: number, n: number, what = 'value'): void {
  if (typeof value === 'number' && Math.abs(value) <= MOST_VALUE) return
  if (Number.isFinite(value)) throw tooLarge(value, i, what, MOST_VALUE)
  throw new AppError(
    'stats.not_finite',
    `The ${what} of point ${i + 1} of ${n} is ${value}.`,
    'Give a number, or null where it is missing.',
    { index: i, column: what },
  )
}

function tooLarge(value: number, i: number, what: string, most: number): AppError {
  return new AppError(
    'stats.out_of_range',
    `The ${what} of point ${i + 1} is ${value}, beyond ${most}.`,
    'Correct the row, or give the column in a larger unit.',
    { index: i, value, column: what },
  )
}

function checkCount(value: number, i: number, kind: ChartKind): void {
  if (value < 0) {
    throw new AppError(
      'stats.negative_count',
      `Point ${i + 1} counts ${value}.`,
      'A count is zero or more.',
      { index: i, value, kind },
    )
  }
  if (!Number.isInteger(value)) throw notWhole(value, i, 'count')
  if (value > MOST_COUNT) throw tooLarge(value, i, 'count', MOST_COUNT)
}

function notWhole(value: number, i: number, what: string): AppError {
  return new AppError(
    'stats.not_whole',
    `The ${what} of point ${i + 1} is ${value}, which is not a whole number.`,
    'Give counts of things; for measurements use a chart of single values.',
    { index: i, value, column: what },
  )
}

function missing(kind: ChartKind, column: string): AppError {
  return new AppError(
    'stats.missing_column',
    `The series has no ${column}, and this kind of chart needs them.`,
    `Give the series a column of ${column}, or choose another kind of chart.`,
    { kind, column },
  )
}
