import { individualsCenter, meanMovingRange } from '../stats/individuals-limits.ts'
import { medianOf } from '../stats/median.ts'
import { RULE_SETS } from '../stats/rules.ts'
import type { Analysis, AnalysisPoint, ChartKind, RuleSetId } from '../stats/types.ts'
import { sideOf, zoneOf } from '../stats/zones.ts'
import type { DateText, Measure, Observation, Phase } from './record.ts'
import { analysisOf, chartKindOf, ruleSetOf } from './series.ts'

/** How often points come: `days` is `null` where they have no calendar rhythm. */
export interface Rhythm {
  readonly word: 'day' | 'week' | 'month' | 'point'
  readonly days: number | null
}

/** How the points of a measure vary when nothing changes; decides which run length is worked out. */
export type PointModel =
  | { readonly kind: 'normal'; readonly sigma: number }
  /** Items or area at each point, in units of `per`. */
  | { readonly kind: 'p' | 'u'; readonly denominators: readonly number[] }
  | { readonly kind: 't' | 'g' }

/** What is known about a measure before a test, in the chart's unit. */
export interface PlannerBaseline {
  /** `frozen`: limits carried forward; `open`: the running phase; `guess`: typed, no data behind it. */
  readonly origin: 'frozen' | 'open' | 'guess'
  readonly level: number
  /** The centre line that sides are read from; the level itself where not said. */
  readonly center?: number | null
  readonly model: PointModel
  readonly ruleSet: RuleSetId
  /** Side of the centre of each point of the phase so far (−1, 0, 1): rules about a whole phase count them. */
  readonly sides?: readonly number[]
  /** Points behind the level; 0 for a guess. */
  readonly n: number
  /** Their values, for single results held against them; empty for a guess. */
  readonly values: readonly number[]
  /** Totals of counted data. */
  readonly numerator: number
  readonly denominator: number
  readonly lower: number | null
  readonly upper: number | null
  readonly rhythm: Rhythm
}

interface Data {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
}

/** d2 for two values: NIST/SEMATECH e-Handbook 6.3.2.2. */
const D2_PAIR = 1.128

/** Charts whose points are worked out from several measurements: their time to a signal is not planned here. */
const NOT_PLANNED: ReadonlySet<ChartKind> = new Set(['moving-range', 'ewma', 'cusum'])

/** Whether the planner has an answer for this measure's chart. */
export function canPlan(measure: Pick<Measure, 'dataKind' | 'chartKind'>): boolean {
  return !NOT_PLANNED.has(chartKindOf(measure))
}

/**
 * The baseline of a measure: its last phase, up to where the limits are frozen.
 *
 * @param data     The measure with its observations and phases.
 * @param analysis Its analysis, where the page has it already.
 * @returns `null` with fewer than 2 points, or where every point is the same.
 */
export function baselineOf(
  data: Data,
  analysis: Analysis | null = analysisOf(data),
): PlannerBaseline | null {
  const { measure } = data
  const phase = analysis?.phases.at(-1)
  if (analysis === null || phase === undefined || !canPlan(measure)) return null
  const last = analysis.phases.length - 1
  const counting = analysis.points.filter(
    (p) => p.phase === last && p.value !== null && p.leftOut === null,
  )
  const points = counting.filter(
    (p) => phase.frozenThrough === null || p.at.slice(0, 10) <= phase.frozenThrough,
  )
  const newest = points.at(-1)
  if (points.length < 2 || newest === undefined) return null
  const values = points.map((p) => p.value!)
  const total = (of: (p: AnalysisPoint) => number | null) =>
    points.reduce((sum, p) => sum + (of(p) ?? 0), 0)
  const scaled = measure.dataKind === 'rates' ? measure.per : 1
  const areas = points.map((p) => (p.denominator ?? 1) / scaled)
  const denominator = areas.reduce((a, b) => a + b, 0)
  const counted = measure.dataKind === 'counts'
  const pooled = measure.dataKind === 'classified' || measure.dataKind === 'rates'
  const numerator = pooled ? total((p) => p.numerator) : total((p) => p.value)
  const level = pooled || counted ? numerator / denominator : (newest.center ?? meanOf(values))
  const model = modelOf(analysis, points, areas, values, measure)
  if (model === null) return null
  return {
    origin: phase.frozenThrough === null ? 'open' : 'frozen',
    level,
    center: newest.center,
    model,
    ruleSet: rulesOn(analysis.kind, ruleSetOf(measure)),
    sides: counting.map((p) => (p.center === null ? 0 : sideOf(zoneOf(p.value!, linesOf(p))))),
    n: points.length,
    values,
    numerator,
    denominator,
    lower: newest.lower,
    upper: newest.upper,
    rhythm: rhythmOf(points.map((p) => p.at)),
  }
}

const linesOf = ({ center }: AnalysisPoint) => ({
  center: center!,
  sigma: Number.NaN,
  lower: Number.NaN,
  upper: Number.NaN,
})

/** A run chart has no limits, so rules that need them give way there, as on the chart itself. */
function rulesOn(kind: ChartKind, ruleSet: RuleSetId): RuleSetId {
  return kind === 'run' && RULE_SETS[ruleSet].needsLimits ? 'run-length-adjusted' : ruleSet
}

/** Denominators of the newest points stand for those to come. */
const RECENT = 12

function modelOf(
  { kind }: Analysis,
  points: readonly AnalysisPoint[],
  areas: readonly number[],
  values: readonly number[],
  { dataKind }: Measure,
): PointModel | null {
  switch (dataKind) {
    case 'cases-between':
      return { kind: 'g' }
    case 'time-between':
      return { kind: 't' }
    case 'classified':
    case 'rates':
      // The primed charts take over-dispersion into their limits, so their sigma is the chart's own.
      if (kind.endsWith('-prime')) {
        const { upper, center } = points.at(-1)!
        if (upper !== null && center !== null && upper > center)
          return { kind: 'normal', sigma: (upper - center) / 3 }
      }
      return { kind: dataKind === 'classified' ? 'p' : 'u', denominators: areas.slice(-RECENT) }
    case 'counts':
      return { kind: 'u', denominators: [1] }
    case 'single':
    case 'subgrouped': {
      const { upper, center } = points.at(-1)!
      const limits = kind.startsWith('xbar') && upper !== null && center !== null
      const sigma = limits ? (upper - center) / 3 : movingSigma(values)
      return sigma > 0 ? { kind: 'normal', sigma } : null
    }
  }
}

function movingSigma(values: readonly number[]): number {
  const counts = new Uint8Array(values.length).fill(1)
  return meanMovingRange(Float64Array.from(values), counts, 0, values.length) / D2_PAIR
}

function meanOf(values: readonly number[]): number {
  const counts = new Uint8Array(values.length).fill(1)
  return individualsCenter(Float64Array.from(values), counts).center
}

/** What a team says of a baseline that nobody has measured. */
export interface BaselineGuess {
  readonly level: number
  /** Single values: how far two points in a row usually lie apart. */
  readonly spread: number | null
  /** Classified data and rates: items or area at each point. */
  readonly denominator: number | null
}

/**
 * A typed guess as a baseline.
 *
 * @returns `null` while it is not whole: single values need a spread, shares and rates a denominator.
 */
export function guessedBaseline(measure: Measure, guess: BaselineGuess): PlannerBaseline | null {
  const { level, spread, denominator } = guess
  const model = guessedModel(measure, spread, denominator)
  const valid =
    measure.dataKind === 'classified' ? level >= 0 && level <= 1 : Number.isFinite(level)
  const counted = model !== null && model.kind !== 'normal'
  if (model === null || !valid || (counted && level < 0)) return null
  if ((model.kind === 't' || model.kind === 'g') && level <= 0) return null
  return {
    origin: 'guess',
    level,
    model,
    ruleSet: rulesOn(chartKindOf(measure), ruleSetOf(measure)),
    n: 0,
    values: [],
    numerator: 0,
    denominator: 0,
    lower: null,
    upper: null,
    rhythm: { word: 'point', days: null },
  }
}

function guessedModel(
  { dataKind, per }: Measure,
  spread: number | null,
  denominator: number | null,
): PointModel | null {
  switch (dataKind) {
    case 'cases-between':
      return { kind: 'g' }
    case 'time-between':
      return { kind: 't' }
    case 'counts':
      return { kind: 'u', denominators: [1] }
    case 'classified':
      return denominator === null || denominator < 1
        ? null
        : { kind: 'p', denominators: [Math.round(denominator)] }
    case 'rates':
      return denominator === null || denominator <= 0
        ? null
        : { kind: 'u', denominators: [denominator / per] }
    case 'single':
    case 'subgrouped':
      return spread === null || spread <= 0 ? null : { kind: 'normal', sigma: spread / D2_PAIR }
  }
}

const DAY = 86_400_000

/**
 * How often points come, from the usual distance of their dates.
 *
 * @example
 * rhythmOf(['2026-03-02', '2026-03-09', '2026-03-16']).word // => 'week'
 */
export function rhythmOf(at: readonly string[]): Rhythm {
  const times = at
    .map((label) => Date.parse(label))
    .filter((time) => at.length > 1 && !Number.isNaN(time))
  if (times.length < 2 || at.some((label) => !/^\d{4}-\d{2}/.test(label)))
    return { word: 'point', days: null }
  const days = medianOf(Float64Array.from(times.slice(1), (time, i) => (time - times[i]!) / DAY))
  if (days >= 0.9 && days <= 1.5) return { word: 'day', days: 1 }
  if (days >= 6 && days <= 8) return { word: 'week', days: 7 }
  if (days >= 28 && days <= 31) return { word: 'month', days: 30.44 }
  return { word: 'point', days: days >= 1 ? days : null }
}

/**
 * Points that fit in the days of a plan; `null` where the days or the rhythm are not known.
 *
 * @example
 * pointsWithin({ word: 'week', days: 7 }, '2026-03-02', '2026-03-15') // => 2
 */
export function pointsWithin(
  rhythm: Rhythm,
  from: DateText | null,
  to: DateText | null,
): number | null {
  if (rhythm.days === null || from === null || to === null || to < from) return null
  const days = (Date.parse(to) - Date.parse(from)) / DAY + 1
  return Math.max(1, Math.round(days / rhythm.days))
}
