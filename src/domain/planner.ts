import { type PointRule, ruleSetOf } from '../stats/rules.ts'
import { runLengthDistribution } from '../stats/run-length.ts'
import { rareSignalChances } from '../stats/time-to-rare-signal.ts'
import { denominatorForSignal, timeToCountSignal, timeToSignal } from '../stats/time-to-signal.ts'
import type { RuleSetId } from '../stats/types.ts'
import type { PlannerBaseline, PointModel } from './planner-baseline.ts'

/** When a chance of a signal is reached, in points after the change; `null` past the horizon. */
interface Milestones {
  readonly median: number | null
  readonly for80: number | null
  readonly for90: number | null
}

/** What a chart can be expected to show of a predicted change, and of none. */
export interface SignalPlan extends Milestones {
  readonly before: number
  readonly after: number
  /** chances[t − 1]: chance of a signal within t points of the change. */
  readonly chances: readonly number[]
  /** The same if nothing changes. */
  readonly falseChances: readonly number[]
  /** With twice the sampling: more in each point, or points twice as often. */
  readonly doubled: Milestones & {
    readonly how: 'larger points' | 'more points'
    readonly chances: readonly number[]
  }
  /** Points in which the denominators below would do. */
  readonly within: number
  /** How many times as much in each point shows it in so many points 8 times in 10. */
  readonly timesAsMuch: number | null
  /** Items or area for that, in the measure's own unit; `null` where points have none. */
  readonly denominatorFor80: number | null
  /** Items or area at a usual point, and in all the points for 80 %. */
  readonly usualDenominator: number | null
}

/** Points looked ahead. */
export const HORIZON = 120
/** Points in which a team that has planned no days would like to know (common practice). */
const USUAL_POINTS = 6
const MOST_TIMES = 1_000

/**
 * How long a chart takes to show a predicted change: limits known, points independent, the change
 * at once and lasting. Rules about order (trends) are left out, as a lasting step is seldom found
 * by them first.
 *
 * @param baseline What is known before the test.
 * @param after    Predicted level, in the chart's unit.
 * @param per      Rates: the measure's `per`; 1 otherwise.
 * @param planned  Points of the planned days, `null` where not known.
 * @returns `null` where the prediction is the baseline itself, or cannot be (a share above 1).
 * @see Champ & Woodall 1987, Technometrics 29:393; NIST/SEMATECH e-Handbook 6.3.
 */
export function signalPlan(
  baseline: PlannerBaseline,
  after: number,
  per: number,
  planned: number | null,
): SignalPlan | null {
  const { level, model, ruleSet } = baseline
  const counted = model.kind !== 'normal'
  const impossible = counted && (after < 0 || (model.kind === 'p' && after > 1))
  const atZero = (model.kind === 't' || model.kind === 'g') && (after <= 0 || level <= 0)
  if (after === level || impossible || atZero) return null
  const chances = chancesFor(model, ruleSet, level, after, 1)
  const falseChances = chancesFor(model, ruleSet, level, level, 1)
  const within = planned ?? USUAL_POINTS
  const larger = model.kind === 'p' || (model.kind === 'u' && hasArea(model))
  const twice = larger
    ? chancesFor(model, ruleSet, level, after, 2)
    : chances.slice(0, HORIZON / 2).map((_, t) => chances[2 * t + 1]!)
  const enough = timesAsMuch(baseline, after, within)
  const usual = usualOf(model)
  const scale = model.kind === 'u' ? per : 1
  return {
    before: level,
    after,
    chances,
    falseChances,
    ...milestones(chances),
    doubled: {
      ...milestones(twice),
      how: larger ? 'larger points' : 'more points',
      chances: twice,
    },
    within,
    timesAsMuch: model.kind === 'normal' ? enough : null,
    denominatorFor80: model.kind === 'normal' || enough === null ? null : enough * scale,
    usualDenominator: usual === null ? null : usual * scale,
  }
}

/** Counts have an area of 1 in every point: nothing that could be made larger. */
const hasArea = (model: PointModel) =>
  model.kind === 'u' && !(model.denominators.length === 1 && model.denominators[0] === 1)

function usualOf(model: PointModel): number | null {
  if (model.kind !== 'p' && !(model.kind === 'u' && hasArea(model))) return null
  return model.denominators.reduce((a, b) => a + b, 0) / model.denominators.length
}

const zoneRules = new Map<RuleSetId, readonly PointRule[]>()

/** The rules of a set that look at zones; one list for each set, since chains are kept by list. */
function zoneRulesOf(ruleSet: RuleSetId): readonly PointRule[] {
  let rules = zoneRules.get(ruleSet)
  if (rules === undefined) {
    rules = ruleSetOf(ruleSet).pointRules.filter(
      (r) => r.shape !== 'trend' && r.shape !== 'alternate',
    )
    zoneRules.set(ruleSet, rules)
  }
  return rules
}

function chancesFor(
  model: PointModel,
  ruleSet: RuleSetId,
  before: number,
  after: number,
  times: number,
): number[] {
  switch (model.kind) {
    case 'normal':
      return normalChances(ruleSet, ((after - before) / model.sigma) * Math.sqrt(times), HORIZON)
    case 'p':
    case 'u': {
      const { kind } = model
      const denominators = model.denominators.map((n) => n * times)
      // Run charts have no limits; their run rules are read off the normal points.
      if (!ruleSetOf(ruleSet).needsLimits) {
        const usual = denominators.reduce((a, b) => a + b, 0) / denominators.length
        const variance = kind === 'p' ? (before * (1 - before)) / usual : before / usual
        if (variance <= 0) return new Array<number>(HORIZON).fill(0)
        return normalChances(ruleSet, (after - before) / Math.sqrt(variance), HORIZON)
      }
      return [...timeToCountSignal(ruleSet, { kind, before, after, denominators }, HORIZON).chances]
    }
    case 't':
    case 'g':
      return [...rareSignalChances(model.kind, ruleSet, before, after, HORIZON)]
  }
}

function normalChances(ruleSet: RuleSetId, shift: number, horizon: number): number[] {
  if (ruleSet === 'run-length-adjusted' || ruleSet === 'none')
    return [...timeToSignal(ruleSet, shift, horizon).chances]
  let sum = 0
  return [...runLengthDistribution(zoneRulesOf(ruleSet), horizon, shift)].map((chance) => {
    sum += chance
    return Math.min(1, sum)
  })
}

/** Normal points: a factor. Counted ones: the items or area at each point. */
function timesAsMuch(baseline: PlannerBaseline, after: number, points: number): number | null {
  const { model, level, ruleSet } = baseline
  const ahead = Math.min(points, HORIZON)
  if (model.kind === 't' || model.kind === 'g') return null
  if (model.kind === 'u' && !hasArea(model)) return null
  if (model.kind === 'normal' || !ruleSetOf(ruleSet).needsLimits) {
    const enough = (times: number) =>
      chancesFor(model, ruleSet, level, after, times)[ahead - 1]! >= 0.8
    let high = 1
    while (!enough(high)) {
      high *= 2
      if (high > MOST_TIMES) return null
    }
    let low = high / 2
    while (high - low > 1 && low >= 1) {
      const middle = Math.floor((low + high) / 2)
      if (enough(middle)) high = middle
      else low = middle
    }
    const usual = usualOf(model)
    return usual === null ? high : Math.ceil(usual * high)
  }
  // Areas are searched in hundredths of a usual point.
  const fine = model.kind === 'u' ? 100 / usualOf(model)! : 1
  const found = denominatorForSignal(
    ruleSet,
    { kind: model.kind, before: level / fine, after: after / fine },
    ahead,
  )
  return found === null ? null : found / fine
}

function milestones(chances: readonly number[]): Milestones {
  const reach = (share: number) => {
    const index = chances.findIndex((chance) => chance >= share)
    return index === -1 ? null : index + 1
  }
  return { median: reach(0.5), for80: reach(0.8), for90: reach(0.9) }
}
