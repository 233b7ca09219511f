import { AppError } from '../errors.ts'
import { analyze } from '../stats/analyze.ts'
import { type ChangeStart, changeStart } from './change-start.ts'
import { type Estimate, effectFit } from './effect-fit.ts'
import { type EffectScale, effectScale } from './effect-scale.ts'
import { seasonOf } from './effect-season.ts'
import type { DateText, Measure, Observation } from './record.ts'
import { chartKindOf, compareMoments, seriesOf } from './series.ts'

/** Fewer points than this on either side carry no line (Wagner et al. 2002 ask for more still). */
export const LEAST_POINTS = 8
/** Points may be so alike that no interval can be trusted: likeness plus its standard error. */
const TOO_ALIKE = 0.8

/** A value with its place on the time axis. */
export interface EffectPoint {
  readonly at: string
  /** In the chart's unit. */
  readonly value: number
  readonly numerator: number | null
  readonly denominator: number | null
}

/** Points on one side of the break, taken together. */
interface Side {
  readonly n: number
  /** Mean of the points; `null` without any. */
  readonly mean: number | null
}

/** What may have shifted a measure from a date on: a test of change, or the start of a phase. */
export interface Shift {
  readonly at: DateText
  /** As it stands in a sentence, such as `test 3`. */
  readonly name: string
}

/** What the claim is: only ever about all points since the break together. */
export type EffectClaim = 'better' | 'worse' | 'higher' | 'lower' | 'none' | 'withheld'

/** The lines and what lies between them. */
interface EffectLines {
  /** The fitted line at every point, its season included. */
  readonly fitted: readonly number[]
  /** The line before carried on, with its interval. */
  readonly carried: readonly (Estimate & { readonly index: number })[]
  /** Distance of the line after from the line before carried on, at the break. */
  readonly step: Estimate
  /** The same, as the mean of the first points after the break. */
  readonly early: Estimate
  readonly earlyPoints: number
  /** Where the line before carried on stands over those points. */
  readonly earlyCarried: number
  /** Whether the line before was rising or falling beyond doubt. */
  readonly trendBefore: 'rising' | 'falling' | null
  /** Whether the slope changed beyond doubt: `up`, later points climb more or fall less. */
  readonly turn: 'up' | 'down' | null
}

/** Mean distance of the first points after the break from the line before, on the scale fitted on. */
interface ScaledDistance {
  readonly value: number
  readonly standardError: number
  readonly degreesOfFreedom: number
  /** Half of its 95 % interval. */
  readonly reach: number
  /** Where the line before carried on stands over those points. */
  readonly base: number
}

interface Common {
  readonly measure: Measure
  readonly shift: Shift
  readonly points: readonly EffectPoint[]
  /** Zero-based index of the first point on or after the shift. */
  readonly breakAt: number
  readonly before: Side
  readonly after: Side
}

/** What a measure did from a date on, as figures. */
export type EffectFinding = Common &
  (
    | { readonly kind: 'unsuitable' }
    | { readonly kind: 'too-few' }
    | { readonly kind: 'constant' }
    | {
        readonly kind: 'fitted'
        /** Everything in the chart's unit, back from the scale that was fitted on. */
        readonly lines: EffectLines
        /** Residuals on the scale that was fitted on, one a point. */
        readonly residuals: readonly number[]
        readonly durbinWatson: number | null
        /** How alike neighbours are, 0 to 0.95. */
        readonly likeness: number
        readonly lag: number
        readonly scale: EffectScale['name']
        /** The early distance on that scale, where units can be compared. */
        readonly scaled: ScaledDistance
        readonly claim: EffectClaim
        /** Points in one turn of the season that was allowed for; `null`: none was. */
        readonly season: number | null
        /** The points reach over less than two turns of a season they may have. */
        readonly seasonUnseen: boolean
        readonly start: ChangeStart | null
        /** Other shifts within four points of this one. */
        readonly others: readonly Shift[]
      }
  )

/**
 * The points of a measure that a line can be drawn through: those not left out, with a value.
 *
 * @throws AppError what `analyze` throws for data its chart cannot take.
 */
export function effectPoints(
  measure: Measure,
  observations: readonly Observation[],
): EffectPoint[] {
  if (observations.length === 0) return []
  const { points } = analyze(seriesOf(measure, observations).series, {
    kind: chartKindOf({ dataKind: measure.dataKind, chartKind: 'auto' }),
    ruleSet: 'none',
    per: measure.per,
  })
  return points.flatMap(({ at, value, numerator, denominator, leftOut }) =>
    value === null || leftOut !== null ? [] : [{ at, value, numerator, denominator }],
  )
}

/**
 * What a measure did from a date on: segmented regression against the line before carried on, and
 * where a single step most likely began.
 *
 * @param data   The measure with its observations.
 * @param shift  From when.
 * @param shifts Everything that may have shifted the measure, this one included, in any order.
 * @param scale  What to fit on; the measure's own by default.
 *
 * @see Wagner, Soumerai, Zhang & Ross-Degnan (2002), J Clin Pharm Ther 27:299.
 */
export function effectOf(
  data: { readonly measure: Measure; readonly observations: readonly Observation[] },
  shift: Shift,
  shifts: readonly Shift[],
  scale?: EffectScale,
): EffectFinding {
  const { measure } = data
  const points = effectPoints(measure, data.observations)
  const found = points.findIndex((p) => compareMoments(p.at, shift.at) >= 0)
  const breakAt = found === -1 ? points.length : found
  const side = (part: readonly EffectPoint[]): Side => ({
    n: part.length,
    mean: part.length === 0 ? null : part.reduce((sum, p) => sum + p.value, 0) / part.length,
  })
  const common: Common = {
    measure,
    shift,
    points,
    breakAt,
    before: side(points.slice(0, breakAt)),
    after: side(points.slice(breakAt)),
  }
  // Gaps between rare events are neither evenly spaced nor near a line.
  if (measure.dataKind === 'cases-between' || measure.dataKind === 'time-between')
    return { ...common, kind: 'unsuitable' }
  if (common.before.n < LEAST_POINTS || common.after.n < LEAST_POINTS)
    return { ...common, kind: 'too-few' }
  const values = points.map((p) => p.value)
  if (values.every((v) => v === values[0])) return { ...common, kind: 'constant' }

  const season = seasonOf(
    points.map((p) => p.at),
    breakAt,
  )
  const { name, forward, back } = scale ?? effectScale(measure, points)
  const fit = effectFit(points.map(forward), breakAt, season.columns)
  const carried = fit.carried.map(({ index, value, low, high }) => ({
    index,
    value: back(value),
    low: back(low),
    high: back(high),
  }))
  // Where the distance is read off: the middle of the first points after the break.
  const middle = carriedAt(fit.carried, breakAt + (fit.earlyPoints - 1) / 2)
  const apart = (from: number, by: Estimate): Estimate => {
    const base = back(from)
    const to = (x: number) => back(from + x) - base
    return { value: to(by.value), low: to(by.low), high: to(by.high) }
  }
  const near = (other: Shift) => {
    const index = points.findIndex((p) => compareMoments(p.at, other.at) >= 0)
    return index !== -1 && Math.abs(index - breakAt) <= NEARBY && other.at !== shift.at
  }
  return {
    ...common,
    kind: 'fitted',
    lines: {
      fitted: fit.fitted.map(back),
      carried,
      step: apart(fit.carried[0]!.value, fit.step),
      early: apart(middle, fit.early),
      earlyPoints: fit.earlyPoints,
      earlyCarried: back(middle),
      trendBefore: fit.before.low > 0 ? 'rising' : fit.before.high < 0 ? 'falling' : null,
      turn: fit.slope.low > 0 ? 'up' : fit.slope.high < 0 ? 'down' : null,
    },
    residuals: fit.residuals,
    durbinWatson: fit.durbinWatson,
    likeness: fit.likeness,
    lag: fit.lag,
    scale: name,
    scaled: {
      value: fit.early.value,
      standardError: fit.earlyError,
      degreesOfFreedom: fit.degreesOfFreedom,
      reach: (fit.early.high - fit.early.low) / 2,
      base: middle,
    },
    claim: claimOf(fit, points.length, measure.better),
    season: season.period,
    seasonUnseen: season.unseen,
    start: startOf(points, shifts),
    others: shifts.filter(near),
  }
}

/** Shifts this few points apart cannot be told from each other by a line. */
export const NEARBY = 4

/** The carried line at a place between two of the points it was worked out for. */
function carriedAt(carried: readonly { index: number; value: number }[], place: number): number {
  const next = carried.findIndex(({ index }) => index >= place)
  const [a, b] = [carried[Math.max(0, next - 1)]!, carried[next]!]
  if (a.index === b.index) return a.value
  return a.value + ((b.value - a.value) * (place - a.index)) / (b.index - a.index)
}

function claimOf(
  { likeness, early }: { likeness: number; early: Estimate },
  n: number,
  better: Measure['better'],
): EffectClaim {
  if (likeness + Math.sqrt((1 - likeness ** 2) / n) > TOO_ALIKE) return 'withheld'
  return claimOfInterval(early, better)
}

/** What an interval of a change claims where nothing else stands in the way. */
export function claimOfInterval(
  { low, high }: Pick<Estimate, 'low' | 'high'>,
  better: Measure['better'],
): Exclude<EffectClaim, 'withheld'> {
  if (low <= 0 && high >= 0) return 'none'
  const up = low > 0
  if (better === null) return up ? 'higher' : 'lower'
  return up === (better === 'up') ? 'better' : 'worse'
}

function startOf(points: readonly EffectPoint[], shifts: readonly Shift[]): ChangeStart | null {
  try {
    return changeStart(points, shifts)
  } catch (error) {
    if (error instanceof AppError && error.code === 'stats.constant') return null
    throw error
  }
}
