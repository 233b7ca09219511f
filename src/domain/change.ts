import { nextValuesInterval } from '../stats/next-values-interval.ts'
import { permutationDifference } from '../stats/permutation-difference.ts'
import { EXACT_BELOW, GAP_POWER, type Printed, publishedChange } from './change-published.ts'
import { BY_CHANCE, rootScale } from './change-scale.ts'
import { seasonColumns } from './change-season.ts'
import type { Measure } from './record.ts'
import { type ChanceSpread, type Step, slopeOf, stepBetween } from './step-model.ts'
import { type Scale, type StudyPoint, scaleOf, seasonOf } from './study-points.ts'

/** What of the data stands in the way of a claim; `null`: nothing does. */
type Doubt =
  /** Fewer than 3 points in the test, or than 5 before it, or too few for an exact test to tell. */
  | 'few-points'
  /** The interval holds "no change". */
  | 'chance'
  /** The points before were moving already. */
  | 'drift'
  /** The interval leaves out "no change", but only if each point stands by itself. */
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
    | 'gap-root'
    | 'welch-log'
    | 'welch'
    | 'permutation-log'
    | 'permutation'
    | 'seasonal'
    | null
  /** How much wider the interval is for spread between points and for likeness of neighbours. */
  readonly widened: number
  /** The season was taken out first. */
  readonly seasonRemoved: boolean
  /** The interval holds only if each point stands by itself; the points are too few to show that. */
  readonly ifAlone: boolean
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

/** Mean correlation of neighbours from which the finding says that they are alike. */
const PLAINLY_ALIKE = 0.3
/** Fewer points than this cannot show how alike neighbours are; limits are trial below it too. */
const FEW_TO_JUDGE = 20
const LEAST_TEST = 3
const LEAST_BEFORE = 5
/**
 * Beside a drift the step is asked for at one-sided 5 %: only the side on which the interval lies can
 * be claimed, so a drift, however steep, leads to a claim in 5 of 100.
 */
const ONE_SIDED = 0.95
/** Two-sided 5 % needs one deal in 40 on each side. */
const LEAST_DEALS = 40

/**
 * The change from the points before a test to the points of it, and whether they bear a claim.
 *
 * The interval printed is the published one of the data kind, widened where points spread more than
 * their counts explain, and from 20 points on for likeness of neighbours. Below 20 it holds only if
 * each point stands by itself, and says so. A claim asks at any length that the step stands over all
 * degrees of likeness, that re-dealing the points rejects it where either side has fewer than 8, and
 * that it stands beside a straight drift. A baseline that plainly drifts bears no claim at all.
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
    ifAlone: false,
    alike: null,
    claim: null,
    doubt: 'few-points',
    points,
  }
  if (test.length === 0 || before.length === 0) return none

  const { y, weights, chance } = rootScale(scale, logs, all)
  const first = before.length
  const season = seasonColumns(seasonOf(all), y, first)
  const seasonRemoved = season.length > 0
  const model = { season, chance, times: timesOf(all) }
  const step = stepBetween(y, weights, first, { ...model, trend: false })
  const ifAlone = all.length < FEW_TO_JUDGE
  const alike = step !== null && !ifAlone && step.alike > PLAINLY_ALIKE ? step.alike : null

  const byChance = step === null || step.onlyChance >= 0.5
  const plain = publishedChange(scale, logs, before, test, byChance)
  const printed = seasonRemoved
    ? seasonalChange(scale, logs, all, first, season, ifAlone)
    : widen(plain, step, ifAlone)
  const base: Change = { ...none, ...printed, alike, seasonRemoved, ifAlone }
  if (base.interval === null) return { ...base, doubt: 'no-spread' }

  const start = season.map((column) => column.slice(0, first))
  if (drifts(y.slice(0, first), weights.slice(0, first), start, chance))
    return { ...base, interval: null, doubt: 'drift' }
  if (
    test.length < LEAST_TEST ||
    first < LEAST_BEFORE ||
    deals(all.length, test.length) < LEAST_DEALS
  )
    return { ...base, doubt: 'few-points' }
  const zero = kind === 'ratio' ? 1 : 0
  const seen = sideOf(base.interval, zero)
  if (seen === null || step === null) {
    const alone = !seasonRemoved && plain.interval !== null && sideOf(plain.interval, zero) !== null
    const tempting = alone && step !== null && sideOf(step.endsIfAlone(), 0) !== null
    return { ...base, doubt: tempting ? 'neighbours' : 'chance' }
  }
  if (test.length < EXACT_BELOW || first < EXACT_BELOW) {
    const { p } = permutationDifference(y.slice(first), y.slice(0, first), { draws: 4000 })
    if (p > 0.05) return { ...base, doubt: 'chance' }
  }
  if (sure(step, 0.975) !== seen) return { ...base, doubt: 'neighbours' }
  const course = stepBetween(y, weights, first, { ...model, trend: true })
  const stands = course !== null && sure(course, ONE_SIDED) === seen
  return stands ? { ...base, claim: seen, doubt: null } : { ...base, doubt: 'course' }
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

function sure({ above }: Step, chance: number): 'up' | 'down' | null {
  return above >= chance ? 'up' : 1 - above >= chance ? 'down' : null
}

/**
 * Moves the ends of a published interval as the model of spread and likeness moves those of the plain
 * interval on its own scale.
 */
function widen(printed: Printed, step: Step | null, ifAlone: boolean): Printed {
  const { kind, estimate, interval } = printed
  if (interval === null || estimate === null || step === null || step.plainHalf === 0)
    return { ...printed, interval: bare(interval) }
  const ends = ifAlone ? step.endsIfAlone() : step.ends()
  const down = Math.max(0, step.plain - ends.lower) / step.plainHalf
  const up = Math.max(0, ends.upper - step.plain) / step.plainHalf
  const widened = (ends.upper - ends.lower) / 2 / step.plainHalf
  if (kind === 'difference') {
    const [least, most] = printed.method === 'newcombe' ? [-1, 1] : [-Infinity, Infinity]
    const lower = Math.max(least, estimate - down * (estimate - interval.lower))
    const upper = Math.min(most, estimate + up * (interval.upper - estimate))
    return { ...printed, widened, interval: { lower, upper } }
  }
  const lower = interval.lower <= 0 ? 0 : estimate * (interval.lower / estimate) ** down
  const upper = estimate === 0 ? interval.upper : estimate * (interval.upper / estimate) ** up
  return { ...printed, widened, interval: { lower, upper } }
}

const bare = (i: Change['interval']) => (i === null ? null : { lower: i.lower, upper: i.upper })

/** The step with the season taken out, on the scale it is told in. */
function seasonalChange(
  scale: Scale,
  logs: boolean,
  points: readonly StudyPoint[],
  first: number,
  season: readonly (readonly number[])[],
  ifAlone: boolean,
): Printed {
  const ratio = scale !== 'share' && (scale !== 'value' || logs)
  const sum = (own: (p: StudyPoint) => number) => points.reduce((total, p) => total + own(p), 0)
  const level = sum((p) => p.numerator ?? 0) / sum((p) => p.denominator)
  const roots = scale === 'gap' ? rootScale(scale, logs, points) : null
  const values = points.map((p) => {
    if (scale === 'rate') return Math.log((p.numerator! + 0.5) / p.denominator)
    return logs ? Math.log(p.value) : p.value
  })
  // One over the variance that chance alone gives a point on this scale.
  const weights = points.map(({ denominator }) => {
    if (scale === 'share') return denominator / Math.max(level * (1 - level), 1e-9)
    if (scale === 'rate') return denominator * level
    return 1
  })
  const counted = { variance: 1, likely: BY_CHANCE }
  const chance = roots === null ? (scale === 'value' ? null : counted) : roots.chance
  const kind = ratio ? 'ratio' : 'difference'
  const options = { trend: false, season, chance }
  const step = stepBetween(roots?.y ?? values, weights, first, options)
  if (step === null) return { kind, estimate: null, interval: null, method: null, widened: 1 }
  const ends = ifAlone ? step.endsIfAlone() : step.ends()
  // Roots of gaps have mean 1 over all points, so the two levels are 1 + v (1 − share) and 1 − v share.
  const share = 1 - first / points.length
  const back = (v: number) => {
    if (roots === null) return ratio ? Math.exp(v) : v
    if (1 - v * share <= 0) return Infinity
    return (Math.max(0, 1 + v * (1 - share)) / (1 - v * share)) ** (1 / GAP_POWER)
  }
  return {
    kind,
    estimate: back(step.plain),
    interval: { lower: back(ends.lower), upper: back(ends.upper) },
    method: 'seasonal',
    widened: (ends.upper - ends.lower) / 2 / step.plainHalf,
  }
}

/**
 * Whether a baseline was moving already: slope of a straight line beyond its 95 % interval, allowing
 * for neighbours that are alike. Below 8 points a slope cannot be told.
 */
function drifts(
  y: readonly number[],
  weights: readonly number[],
  season: readonly (readonly number[])[],
  chance: ChanceSpread | null,
): boolean {
  if (y.length < 8) return false
  const slope = slopeOf(y, weights, { trend: false, season, chance })
  return slope !== null && sure(slope, 0.975) !== null
}

function deals(n: number, k: number): number {
  let count = 1
  for (let i = 1; i <= Math.min(k, n - k) && count < 1e6; i++) count *= (n - i + 1) / i
  return count
}
