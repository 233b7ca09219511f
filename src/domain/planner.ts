import type { PlannerBaseline, PointModel } from './planner-baseline.ts'
import {
  type Chances,
  exactChances,
  hasExactChain,
  quickChances,
  type SlowRule,
  simulatedChances,
  slowRulesOf,
} from './planner-chances.ts'

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
  /** Rules of the chart that are not counted here; empty once the answer is whole. */
  readonly leftOut: readonly SlowRule[]
  /** Simulated charts behind each chance; `null`: worked out exactly. */
  readonly charts: number | null
  /** The phase already meets a rule about the whole of it, so its points are not counted. */
  readonly alreadySignals: boolean
}

/** Points looked ahead. */
export const HORIZON = 120
/** Points in which a team that has planned no days would like to know (common practice). */
const USUAL_POINTS = 6
const MOST_TIMES = 1_000
const MOST_DENOMINATOR = 1_000_000
/** Charts for each simulated chance: a standard error of a quarter of a percent at most. */
const PLAN_CHARTS = 40_000
/** The search for a denominator asks many times, for a few points each. */
const SEARCH_CHARTS = 10_000

/** How far the whole answer is: so many simulated charts, or so many steps of the chain. */
export interface PlanProgress {
  readonly done: number
  readonly total: number
  readonly of: 'charts' | 'steps'
}

/**
 * The first answer, at once: how long a chart takes to show a predicted change, limits known, points
 * independent, the change at once and lasting. `leftOut` names the rules that it does not count.
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
  if (!canShow(baseline, after)) return null
  const quick = quickChances(baseline)
  return {
    ...planFrom(baseline, after, per, planned, { main: quick, search: quick, step: () => {} }),
    leftOut: slowRulesOf(baseline),
    charts: null,
    alreadySignals: false,
  }
}

/**
 * The whole answer: every rule of the chart's rule set, by an exact chain where there is one, else
 * on seeded random charts. Takes up to some seconds, so it belongs in a worker.
 *
 * @param onProgress Called now and then.
 * @returns As `signalPlan`, with nothing left out.
 */
export function wholePlan(
  baseline: PlannerBaseline,
  after: number,
  per: number,
  planned: number | null,
  onProgress: (progress: PlanProgress) => void = () => {},
  charts = PLAN_CHARTS,
): SignalPlan | null {
  if (!canShow(baseline, after)) return null
  let steps = 0
  if (hasExactChain(baseline)) {
    const main = exactChances(baseline)
    const step = () => onProgress({ done: ++steps, total: STEPS, of: 'steps' })
    return {
      ...planFrom(baseline, after, per, planned, { main, search: main, step }),
      leftOut: [],
      charts: null,
      alreadySignals: false,
    }
  }
  const total = STEPS * charts
  const onChart = (done: number) => onProgress({ done: steps * charts + done, total, of: 'charts' })
  const main = simulatedChances(baseline, { charts, onChart })
  const search = simulatedChances(baseline, { charts: Math.min(charts, SEARCH_CHARTS) })
  const step = () => {
    steps++
    onChart(0)
  }
  const plan = planFrom(baseline, after, per, planned, {
    main: main.chances,
    search: search.chances,
    step,
  })
  return { ...plan, leftOut: [], charts, alreadySignals: main.alreadySignals() }
}

function canShow({ level, model }: PlannerBaseline, after: number): boolean {
  const counted = model.kind !== 'normal'
  const impossible = counted && (after < 0 || (model.kind === 'p' && after > 1))
  const atZero = (model.kind === 't' || model.kind === 'g') && (after <= 0 || level <= 0)
  return !(after === level || impossible || atZero)
}

/** Chances that a plan is worked out from; `step` is called after each of its four parts. */
interface Engine {
  readonly main: Chances
  readonly search: Chances
  readonly step: () => void
}
const STEPS = 4

function planFrom(
  baseline: PlannerBaseline,
  after: number,
  per: number,
  planned: number | null,
  { main, search, step }: Engine,
): Omit<SignalPlan, 'leftOut' | 'charts' | 'alreadySignals'> {
  const { level, model } = baseline
  const chances = main(model, after, HORIZON)
  step()
  const falseChances = main(model, level, HORIZON)
  step()
  const within = planned ?? USUAL_POINTS
  const larger = model.kind === 'p' || (model.kind === 'u' && hasArea(model))
  const twice = larger
    ? main(timesModel(model, 2), after, HORIZON)
    : chances.slice(0, HORIZON / 2).map((_, t) => chances[2 * t + 1]!)
  step()
  const ahead = Math.min(within, HORIZON)
  const shows = (changed: PointModel) => search(changed, after, ahead)[ahead - 1]! >= 0.8
  const usual = usualOf(model)
  const scale = model.kind === 'u' ? per : 1
  const times =
    model.kind === 'normal' ? fewest((n) => shows(timesModel(model, n)), MOST_TIMES) : null
  const denominator = usual === null ? null : denominatorThatShows(model, usual, shows)
  step()
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
    timesAsMuch: times,
    denominatorFor80: denominator === null ? null : denominator * scale,
    usualDenominator: usual === null ? null : usual * scale,
  }
}

/** The points with so many times as much in each. */
function timesModel(model: PointModel, times: number): PointModel {
  switch (model.kind) {
    case 'normal':
      return { kind: 'normal', sigma: model.sigma / Math.sqrt(times) }
    case 'p':
    case 'u':
      return { ...model, denominators: model.denominators.map((n) => n * times) }
    default:
      return model
  }
}

/** Items, or area in hundredths of a usual point, with which each point is enough. */
function denominatorThatShows(
  model: PointModel,
  usual: number,
  shows: (model: PointModel) => boolean,
): number | null {
  if (model.kind !== 'p' && model.kind !== 'u') return null
  const unit = model.kind === 'u' ? usual / 100 : 1
  const found = fewest((n) => shows({ ...model, denominators: [n * unit] }), MOST_DENOMINATOR)
  return found === null ? null : found * unit
}

/** Chances climb in small steps back and forth, as counts do; the search takes the overall climb. */
function fewest(enough: (n: number) => boolean, most: number): number | null {
  let high = 1
  while (!enough(high)) {
    high *= 2
    if (high > most) return null
  }
  let low = high / 2
  while (high - low > 1 && low >= 1) {
    const middle = Math.floor((low + high) / 2)
    if (enough(middle)) high = middle
    else low = middle
  }
  return high
}

/** Counts have an area of 1 in every point: nothing that could be made larger. */
const hasArea = (model: PointModel) =>
  model.kind === 'u' && !(model.denominators.length === 1 && model.denominators[0] === 1)

function usualOf(model: PointModel): number | null {
  if (model.kind !== 'p' && !(model.kind === 'u' && hasArea(model))) return null
  return model.denominators.reduce((a, b) => a + b, 0) / model.denominators.length
}

function milestones(chances: readonly number[]): Milestones {
  const reach = (share: number) => {
    const index = chances.findIndex((chance) => chance >= share)
    return index === -1 ? null : index + 1
  }
  return { median: reach(0.5), for80: reach(0.8), for90: reach(0.9) }
}
