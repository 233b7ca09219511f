import { nextBinomialCount, nextPoissonCount } from '../stats/next-count-interval.ts'
import { nextMeanInterval } from '../stats/next-values-interval.ts'
import { permutationDifference } from '../stats/permutation-difference.ts'
import { fQuantile } from '../stats/special/f-distribution.ts'
import type { PlannerBaseline } from './planner-baseline.ts'
import type { Measure } from './record.ts'

/** Trials from 1 to this many are held against the baseline all at once, not read off a chart. */
export const MOST_TRIALS = 7

/** What a test of a few trials would have to show to stand out from the baseline. */
export interface ConvincingResult {
  readonly trials: number
  /** Highest mean (or total, where `of` is set or data are counts) that stands out below. */
  readonly below: number | null
  /** Lowest that stands out above; `null`: none that high can. */
  readonly above: number | null
  /** `items`: a count of so many looked at; `events`: a count in so much area; `mean`: of the trials. */
  readonly as: 'mean' | 'items' | 'events'
  /** Items or area in the test, in the measure's own unit. */
  readonly of: number | null
  /** What the limits rest on. */
  readonly method: 'permutation' | 'predictive'
  readonly level: number
}

/** Two-sided level of a convincing result (common practice). */
const LEVEL = 0.95
/** Deals looked at for one limit: more would make the page wait. */
const MOST_DEALS = 4_000

/**
 * Smallest result of a few trials that stands out from the baseline at the two-sided 5 % level.
 *
 * Counted data: beyond the exact predictive range of the next count. Times and cases between
 * events: beyond the exact range for the mean of the next exponential times (F distribution).
 * Single values: beyond the predictive interval of their mean (on logs for durations), and, where
 * all deals can be looked at, rejected by the exact permutation test as well.
 *
 * @param trials 1 to 7.
 * @returns `null` without baseline data: a guess has no spread of its own to hold a result against.
 * @see Hahn & Meeker (1991), Statistical Intervals, 4.7, 6.7, 7.6; Pitman (1937), J R Stat Soc Suppl 4:119.
 */
export function smallestConvincing(
  measure: Measure,
  baseline: PlannerBaseline,
  trials: number,
): ConvincingResult | null {
  if (baseline.n < 2) return null
  const base = { trials, level: LEVEL }
  const usual = baseline.denominator / baseline.n
  switch (measure.dataKind) {
    case 'classified': {
      const of = Math.max(1, Math.round(usual * trials))
      const next = nextBinomialCount(baseline.numerator, baseline.denominator, of, LEVEL)
      return {
        ...base,
        ...beyond(next, of),
        as: 'items',
        of,
        method: 'predictive',
      }
    }
    case 'rates':
    case 'counts': {
      const area = usual * trials
      const next = nextPoissonCount(baseline.numerator, baseline.denominator, area, LEVEL)
      const of = measure.dataKind === 'rates' ? area * measure.per : null
      return { ...base, ...beyond(next, Infinity), as: 'events', of, method: 'predictive' }
    }
    case 'time-between':
    case 'cases-between': {
      const mean = baseline.values.reduce((a, b) => a + b, 0) / baseline.n
      if (!(mean > 0)) return null
      const quantile = (isLower: boolean) =>
        mean * fQuantile((1 - LEVEL) / 2, 2 * trials, 2 * baseline.n, isLower)
      return {
        ...base,
        below: quantile(true),
        above: quantile(false),
        as: 'mean',
        of: null,
        method: 'predictive',
      }
    }
    case 'single':
    case 'subgrouped':
      return ofMeans(measure, baseline.values, trials)
  }
}

function beyond(
  { lower, upper }: { readonly lower: number; readonly upper: number },
  most: number,
): { below: number | null; above: number | null } {
  return { below: lower > 0 ? lower - 1 : null, above: upper < most ? upper + 1 : null }
}

function ofMeans(
  measure: Measure,
  values: readonly number[],
  trials: number,
): ConvincingResult | null {
  // Times vary by factors: their logs are closer to normal.
  const onLogs = measure.valueFormat === 'duration' && values.every((v) => v > 0)
  const scaled = onLogs ? values.map(Math.log) : values
  if (scaled.every((v) => v === scaled[0])) return null
  const interval = nextMeanInterval(scaled, trials, LEVEL)
  let { lower, upper } = interval
  const dealt = trials >= 2 && deals(values.length + trials, trials) <= MOST_DEALS
  if (dealt) {
    const reject = (value: number) =>
      permutationDifference(new Array<number>(trials).fill(value), scaled).p <= 1 - LEVEL + 1e-12
    const low = furtherUntil(reject, lower, interval.estimate)
    const high = furtherUntil(reject, upper, interval.estimate)
    // Too few deals for any result to be rare enough.
    if (low === null || high === null)
      return {
        trials,
        level: LEVEL,
        below: null,
        above: null,
        as: 'mean',
        of: null,
        method: 'permutation',
      }
    lower = low
    upper = high
  }
  const back = (value: number) => (onLogs ? Math.exp(value) : value)
  const floor = measure.valueFormat === 'duration' ? 0 : -Infinity
  return {
    trials,
    level: LEVEL,
    below: back(lower) > floor ? back(lower) : null,
    above: back(upper),
    as: 'mean',
    of: null,
    method: dealt ? 'permutation' : 'predictive',
  }
}

/** Ways to deal `k` of `n`. */
function deals(n: number, k: number): number {
  let ways = 1
  for (let i = 1; i <= k; i++) ways *= (n - k + i) / i
  return Math.round(ways)
}

/** The limit itself where it is rejected, else the first further out that is; `null` if none is. */
function furtherUntil(
  reject: (value: number) => boolean,
  limit: number,
  center: number,
): number | null {
  if (reject(limit)) return limit
  const step = limit - center
  let far = limit + step
  for (let k = 0; !reject(far); k++) {
    if (k === 5) return null
    far += step * 2 ** k
  }
  let near = limit
  for (let i = 0; i < 20; i++) {
    const middle = (near + far) / 2
    if (reject(middle)) far = middle
    else near = middle
  }
  return far
}
