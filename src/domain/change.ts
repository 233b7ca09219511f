import { AppError } from '../errors.ts'
import { meanDifference } from '../stats/mean-difference.ts'
import { nextValuesInterval } from '../stats/next-values-interval.ts'
import { permutationDifference } from '../stats/permutation-difference.ts'
import { proportionDifference } from '../stats/proportion-difference.ts'
import { rateRatio } from '../stats/rate-ratio.ts'
import { fQuantile, fTails } from '../stats/special/f-distribution.ts'
import { timeRatio } from '../stats/time-ratio.ts'
import type { Measure } from './record.ts'
import { slopeOf, stepBetween } from './step-model.ts'
import { type Scale, type StudyPoint, scaleOf, seasonOf } from './study-points.ts'

/** What of the data stands in the way of a claim; `null`: nothing does. */
type Doubt =
  /** Fewer than 3 points in the test, or than 5 before it, or too few for an exact test to tell. */
  | 'few-points'
  /** The interval holds "no change". */
  | 'chance'
  /** The points before were moving already. */
  | 'drift'
  /** It would hold for independent points, which these may not be. */
  | 'neighbours'
  /** It would hold for a level baseline, which this may not be. */
  | 'course'
  /** Every point is the same on both sides, or nothing can be computed. */
  | 'no-spread'

/** The change from one stretch of a measure to the next. */
export interface Change {
  /** `ratio`: test ÷ comparator; `difference`: test − comparator, in the chart's unit. */
  readonly kind: 'ratio' | 'difference'
  readonly estimate: number | null
  /** 95 %; an end is infinite where the data set no bound; `null` where an interval would mislead. */
  readonly interval: { readonly lower: number; readonly upper: number } | null
  readonly method:
    | 'newcombe'
    | 'conditional-ratio'
    | 'gap-ratio'
    | 'welch-log'
    | 'welch'
    | 'permutation-log'
    | 'permutation'
    | 'seasonal'
    | null
  /** How much the interval was widened for spread between points and for likeness of neighbours. */
  readonly widened: number
  /** The season was taken out first. */
  readonly seasonRemoved: boolean
  /** Correlation of neighbouring points, where it is plainly above 0. */
  readonly alike: number | null
  /** Where the data support it: which way the measure moved. */
  readonly claim: 'up' | 'down' | null
  readonly doubt: Doubt | null
  readonly points: { readonly test: number; readonly before: number }
}

/** One value against the range that the values before it lead to expect. */
export interface Placing {
  readonly value: number
  /** 95 % range for a single next value. */
  readonly lower: number
  readonly upper: number
  readonly where: 'inside' | 'above' | 'below'
}

/** Below this many values on either side the values are re-dealt (METHODS 5). */
const EXACT_BELOW = 8
const LEAST_TEST = 3
const LEAST_BEFORE = 5
/** Two-sided 5 % needs one deal in 40 on each side. */
const LEAST_DEALS = 40

/**
 * The change from the points before a test to the points of it, and whether they bear a claim.
 *
 * The interval printed is the published one of the data kind, widened where points spread more than
 * their counts explain or resemble their neighbours. A claim asks for more, because neither can be
 * ruled out on few points: the step must also stand when neighbours are as alike as the data still
 * allow, and when a straight drift runs through both stretches. A baseline that plainly drifts, or a
 * season of which there are not two rounds, bears no claim at all.
 *
 * @param before Points of the comparator, in time order.
 * @param test   Points of the test, in time order.
 */
export function changeBetween(
  measure: Pick<Measure, 'dataKind'>,
  before: readonly StudyPoint[],
  test: readonly StudyPoint[],
): Change {
  const scale = scaleOf(measure)
  const all = [...before, ...test]
  const logs = scale === 'value' && all.every(({ value }) => value > 0)
  const kind = scale === 'share' || (scale === 'value' && !logs) ? 'difference' : 'ratio'
  const points = { test: test.length, before: before.length }
  const none: Change = {
    kind,
    estimate: null,
    interval: null,
    method: null,
    widened: 1,
    seasonRemoved: false,
    alike: null,
    claim: null,
    doubt: 'few-points',
    points,
  }
  if (test.length === 0 || before.length === 0) return none

  const { y, weights, floor } = rootScale(scale, logs, all)
  const first = before.length
  const season = seasonOf(all)
  const rounds = season === null ? 0 : first / season.period
  const seasonal = season !== null && rounds >= 2 && hasSeason(y.slice(0, first), season.parts)
  const parts = seasonal ? season.parts : null
  const spread = { season: parts, floor, times: timesOf(all) }
  const likely = stepBetween(y, weights, first, { ...spread, trend: false, correlation: 'likely' })
  const factor = likely?.widened ?? 1
  const alike = likely !== null && likely.r > 1.64 / Math.sqrt(all.length) ? likely.r : null

  const printed = seasonal
    ? seasonalChange(scale, logs, all, first, season.parts)
    : widen(publishedChange(scale, logs, before, test), kind, factor)
  const base: Change = { ...none, ...printed, alike, seasonRemoved: seasonal }
  if (base.interval === null) return { ...base, doubt: 'no-spread' }

  if (drifts(y.slice(0, first), weights.slice(0, first), parts?.slice(0, first) ?? null, floor))
    return { ...base, interval: null, doubt: 'drift' }
  if (
    test.length < LEAST_TEST ||
    first < LEAST_BEFORE ||
    deals(all.length, test.length) < LEAST_DEALS
  )
    return { ...base, doubt: 'few-points' }
  const zero = kind === 'ratio' ? 1 : 0
  const way = sideOf(base.interval, zero)
  if (way === null) return { ...base, doubt: 'chance' }
  const stands = (trend: boolean) => {
    const step = stepBetween(y, weights, first, {
      ...spread,
      trend,
      correlation: trend ? 'likely' : 'cautious',
    })
    return step !== null && sideOf(step, 0) === way
  }
  if (!stands(false)) return { ...base, doubt: 'neighbours' }
  if (!stands(true)) return { ...base, doubt: 'course' }
  return { ...base, claim: way, doubt: null }
}

/**
 * Where one value lies against the range of the values before it.
 *
 * @returns `null` with fewer than 5 values before, or when they are all the same.
 */
export function placeValue(
  before: readonly StudyPoint[],
  test: readonly StudyPoint[],
): Placing | null {
  if (test.length !== 1 || before.length < LEAST_BEFORE) return null
  const { value } = test[0]!
  const values = before.map((point) => point.value)
  if (values.every((v) => v === values[0])) return null
  const logs = value > 0 && values.every((v) => v > 0)
  const range = nextValuesInterval(logs ? values.map(Math.log) : values)
  const lower = logs ? Math.exp(range.lower) : range.lower
  const upper = logs ? Math.exp(range.upper) : range.upper
  return {
    value,
    lower,
    upper,
    where: value < lower ? 'below' : value > upper ? 'above' : 'inside',
  }
}

/** Times from 0 to 1, so that a drift runs on through a gap; undefined where points share a moment. */
function timesOf(points: readonly StudyPoint[]): number[] | undefined {
  const times = points.map(({ at }) => Date.parse(at))
  const from = times[0]!
  const span = times.at(-1)! - from
  const rising = times.every((time, i) => i === 0 || time > times[i - 1]!)
  return rising && span > 0 ? times.map((time) => (time - from) / span) : undefined
}

function sideOf(interval: { lower: number; upper: number }, zero: number): 'up' | 'down' | null {
  return interval.lower > zero ? 'up' : interval.upper < zero ? 'down' : null
}

/** Points on a scale where they spread alike: arcsine and square root have variance ¼ ÷ size. */
function rootScale(scale: Scale, logs: boolean, points: readonly StudyPoint[]) {
  const sizes = points.map(({ denominator }) => denominator)
  if (scale === 'share')
    return {
      y: points.map((p) => Math.asin(Math.sqrt((p.numerator! + 3 / 8) / (p.denominator + 3 / 4)))),
      weights: sizes,
      floor: 0.25,
    }
  if (scale === 'rate')
    return {
      y: points.map((p) => Math.sqrt((p.numerator! + 3 / 8) / p.denominator)),
      weights: sizes,
      floor: 0.25,
    }
  const flat = { weights: sizes.map(() => 1), floor: 0 }
  if (scale === 'gap') {
    const y = points.map((p) => p.value ** GAP_POWER)
    const mean = y.reduce((sum, v) => sum + v, 0) / y.length
    if (mean > 0) return { ...flat, y: y.map((v) => v / mean), floor: GAP_VARIANCE }
    return { ...flat, y }
  }
  return { ...flat, y: points.map((p) => (logs ? Math.log(p.value) : p.value)) }
}

/** Makes waiting times close to normal: Nelson (1994), J Qual Technol 26:239. */
const GAP_POWER = 1 / 3.6
/** Variance of an exponential time to that power over its squared mean: Γ(1 + 2/3.6) ÷ Γ(1 + 1/3.6)² − 1. */
const GAP_VARIANCE = 0.0952

type Printed = Pick<Change, 'kind' | 'estimate' | 'interval' | 'method' | 'widened'>

function publishedChange(
  scale: Scale,
  logs: boolean,
  before: readonly StudyPoint[],
  test: readonly StudyPoint[],
): Printed {
  const total = (points: readonly StudyPoint[]) => ({
    top: points.reduce((sum, p) => sum + (p.numerator ?? 0), 0),
    bottom: points.reduce((sum, p) => sum + p.denominator, 0),
  })
  const a = total(test)
  const b = total(before)
  if (scale === 'share') {
    const d = proportionDifference(a.top, a.bottom, b.top, b.bottom)
    return { kind: 'difference', estimate: d.estimate, interval: d, method: 'newcombe', widened: 1 }
  }
  if (scale === 'rate') {
    const d = rateRatio(a.top, a.bottom, b.top, b.bottom)
    return {
      kind: 'ratio',
      estimate: d.estimate,
      interval: a.top + b.top === 0 ? null : d,
      method: 'conditional-ratio',
      widened: 1,
    }
  }
  if (scale === 'gap') {
    // Sums of n exponential gaps are chi-square with 2n degrees of freedom, so their ratio is F.
    const possible = a.bottom > 0 && b.bottom > 0
    const estimate = possible ? a.bottom / test.length / (b.bottom / before.length) : null
    const df1 = 2 * test.length
    const df2 = 2 * before.length
    return {
      kind: 'ratio',
      estimate,
      interval:
        estimate === null
          ? null
          : {
              lower: estimate / fQuantile(0.025, df1, df2, false),
              upper: estimate / fQuantile(0.025, df1, df2),
            },
      method: 'gap-ratio',
      widened: 1,
    }
  }
  const kind = logs ? 'ratio' : 'difference'
  const values = (points: readonly StudyPoint[]) =>
    points.map(({ value }) => (logs ? Math.log(value) : value))
  const back = (v: number) => (logs ? Math.exp(v) : v)
  const mean = (v: readonly number[]) => v.reduce((sum, x) => sum + x, 0) / v.length
  const estimate = back(mean(values(test)) - mean(values(before)))
  if (test.length < 2 || before.length < 2)
    return {
      kind,
      estimate,
      interval: { lower: back(-Infinity), upper: Infinity },
      method: logs ? 'permutation-log' : 'permutation',
      widened: 1,
    }
  try {
    if (test.length < EXACT_BELOW || before.length < EXACT_BELOW) {
      const d = permutationDifference(values(test), values(before), { draws: 4000 })
      return {
        kind,
        estimate,
        interval: { lower: back(d.lower), upper: back(d.upper) },
        method: logs ? 'permutation-log' : 'permutation',
        widened: 1,
      }
    }
    const plain = (points: readonly StudyPoint[]) => points.map(({ value }) => value)
    const d = (logs ? timeRatio : meanDifference)(plain(test), plain(before))
    return { kind, estimate, interval: d, method: logs ? 'welch-log' : 'welch', widened: 1 }
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return { kind, estimate, interval: null, method: null, widened: 1 }
  }
}

function widen(printed: Printed, kind: Change['kind'], factor: number): Printed {
  const { estimate, interval } = printed
  if (interval === null || factor === 1) return { ...printed, interval: bare(interval) }
  if (estimate === null) return { ...printed, interval: bare(interval) }
  const share = printed.method === 'newcombe'
  if (kind === 'difference') {
    const lower = estimate - factor * (estimate - interval.lower)
    const upper = estimate + factor * (interval.upper - estimate)
    return {
      ...printed,
      widened: factor,
      interval: share
        ? { lower: Math.max(-1, lower), upper: Math.min(1, upper) }
        : { lower, upper },
    }
  }
  const lower = interval.lower <= 0 ? 0 : estimate * (interval.lower / estimate) ** factor
  const upper = estimate === 0 ? interval.upper : estimate * (interval.upper / estimate) ** factor
  return { ...printed, widened: factor, interval: { lower, upper } }
}

const bare = (i: Change['interval']) => (i === null ? null : { lower: i.lower, upper: i.upper })

/** The step with the season taken out, on the scale it is told in. */
function seasonalChange(
  scale: Scale,
  logs: boolean,
  points: readonly StudyPoint[],
  first: number,
  season: readonly number[],
): Printed {
  const ratio = scale !== 'share' && (scale !== 'value' || logs)
  const y = points.map((p) => {
    if (scale === 'rate') return Math.log((p.numerator! + 0.5) / p.denominator)
    if (scale === 'gap') return Math.log(p.value + 0.5)
    return logs ? Math.log(p.value) : p.value
  })
  const weights = points.map((p) => (scale === 'share' || scale === 'rate' ? p.denominator : 1))
  const kind = ratio ? 'ratio' : 'difference'
  const options = { trend: false, season, floor: 0, correlation: 'likely' } as const
  const step = stepBetween(y, weights, first, options)
  if (step === null) return { kind, estimate: null, interval: null, method: null, widened: 1 }
  const back = (v: number) => (ratio ? Math.exp(v) : v)
  return {
    kind,
    estimate: back(step.estimate),
    interval: { lower: back(step.lower), upper: back(step.upper) },
    method: 'seasonal',
    widened: step.widened,
  }
}

/** Whether the parts of a season differ in the baseline: F test of their means, 5 %. */
function hasSeason(y: readonly number[], parts: readonly number[]): boolean {
  const groups = new Map<number, number[]>()
  y.forEach((v, i) => {
    groups.set(parts[i]!, [...(groups.get(parts[i]!) ?? []), v])
  })
  const n = y.length
  const k = groups.size
  if (k < 2 || n - k < 2) return false
  const grand = y.reduce((sum, v) => sum + v, 0) / n
  let between = 0
  let within = 0
  for (const values of groups.values()) {
    const mean = values.reduce((sum, v) => sum + v, 0) / values.length
    between += values.length * (mean - grand) ** 2
    for (const v of values) within += (v - mean) ** 2
  }
  if (within === 0) return between > 0
  return fTails(between / (k - 1) / (within / (n - k)), k - 1, n - k).upper < 0.05
}

/**
 * Whether a baseline was moving already: slope of a straight line beyond its 95 % interval, allowing
 * for neighbours that are alike. Below 8 points a slope cannot be told.
 */
function drifts(
  y: readonly number[],
  weights: readonly number[],
  season: readonly number[] | null,
  floor: number,
): boolean {
  if (y.length < 8) return false
  const slope = slopeOf(y, weights, { trend: false, season, floor, correlation: 'likely' })
  return slope !== null && sideOf(slope, 0) !== null
}

function deals(n: number, k: number): number {
  let count = 1
  for (let i = 1; i <= Math.min(k, n - k) && count < 1e6; i++) count *= (n - i + 1) / i
  return count
}
