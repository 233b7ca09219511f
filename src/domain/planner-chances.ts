import { type PointRule, ruleSetOf } from '../stats/rules.ts'
import { runLengthDistribution } from '../stats/run-length.ts'
import { type ChangedProcess, simulateTimeToSignal } from '../stats/simulate-time-to-signal.ts'
import { normalQuantile } from '../stats/special/normal.ts'
import { rareSignalChances } from '../stats/time-to-rare-signal.ts'
import { timeToCountSignal, timeToSignal } from '../stats/time-to-signal.ts'
import type { RuleSetId } from '../stats/types.ts'
import type { PlannerBaseline, PointModel } from './planner-baseline.ts'

/** A rule that takes too long for the first answer. */
export type SlowRule = 'trend' | 'alternating' | 'runs' | 'crossings'

/** Chances of a signal within 1, 2, … `horizon` points of a change from the baseline to `after`. */
export type Chances = (model: PointModel, after: number, horizon: number) => readonly number[]

/**
 * Rules of the baseline's chart that the first answer leaves out. None: the first answer is whole.
 *
 * @example
 * slowRulesOf({ model: { kind: 'normal', sigma: 1 }, ruleSet: 'shewhart-healthcare' }) // => ['trend']
 */
export function slowRulesOf({
  model,
  ruleSet,
}: Pick<PlannerBaseline, 'model' | 'ruleSet'>): readonly SlowRule[] {
  const { pointRules, phaseRules, needsLimits } = ruleSetOf(ruleSet)
  // A G chart with limits is read by its limits alone.
  if (model.kind === 'g' && needsLimits) return []
  const has = (shape: PointRule['shape']) => pointRules.some((rule) => rule.shape === shape)
  const slow: SlowRule[] = []
  if (has('trend')) slow.push('trend')
  if (has('alternate')) slow.push('alternating')
  if (phaseRules.includes('runs-too-few')) slow.push('runs')
  if (phaseRules.includes('crossings-too-few')) slow.push('crossings')
  return slow
}

/** Whether all rules together have an exact chain: normal points and times, without whole-phase rules. */
export function hasExactChain({ model, ruleSet }: PlannerBaseline): boolean {
  const { needsLimits, id } = ruleSetOf(ruleSet)
  return id === 'none' || (needsLimits && model.kind !== 'p' && model.kind !== 'u')
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

/** The first answer: exact, at once, without the slow rules. */
export function quickChances(baseline: PlannerBaseline): Chances {
  const { ruleSet, level: before } = baseline
  const { needsLimits } = ruleSetOf(ruleSet)
  return (model, after, horizon) => {
    switch (model.kind) {
      case 'normal':
        return normalChances(ruleSet, (after - before) / model.sigma, horizon)
      case 'p':
      case 'u': {
        const { kind, denominators } = model
        if (needsLimits)
          return [
            ...timeToCountSignal(ruleSet, { kind, before, after, denominators }, horizon).chances,
          ]
        // Run charts have no limits; their run rules are read off the normal points.
        const usual = denominators.reduce((a, b) => a + b, 0) / denominators.length
        const variance = kind === 'p' ? (before * (1 - before)) / usual : before / usual
        if (variance <= 0) return new Array<number>(horizon).fill(0)
        return normalChances(ruleSet, (after - before) / Math.sqrt(variance), horizon)
      }
      case 't':
      case 'g':
        if (needsLimits) return [...rareSignalChances(model.kind, ruleSet, before, after, horizon)]
        // On a run chart only sides count, and the levels are medians: above the old one are
        // 2^(−before ÷ after) of the gaps, as if a normal mean had moved by that quantile.
        return normalChances(ruleSet, normalQuantile(2 ** (-before / after)), horizon)
    }
  }
}

function normalChances(ruleSet: RuleSetId, shift: number, horizon: number): number[] {
  if (ruleSet === 'run-length-adjusted' || ruleSet === 'none')
    return [...timeToSignal(ruleSet, shift, horizon).chances]
  return cumulated(runLengthDistribution(zoneRulesOf(ruleSet), horizon, shift))
}

function cumulated(chances: Iterable<number>): number[] {
  let sum = 0
  return Array.from(chances, (chance) => {
    sum += chance
    return Math.min(1, sum)
  })
}

/** Every rule, by the chain that is exact for normal points and for times between events. */
export function exactChances(baseline: PlannerBaseline): Chances {
  const { ruleSet, level: before } = baseline
  return (model, after, horizon) => {
    switch (model.kind) {
      case 'normal': {
        const { pointRules } = ruleSetOf(ruleSet)
        if (pointRules.length === 0) return new Array<number>(horizon).fill(0)
        const shift = (after - before) / model.sigma
        return cumulated(runLengthDistribution(pointRules, horizon, shift))
      }
      case 't':
      case 'g':
        return [...rareSignalChances(model.kind, ruleSet, before, after, horizon, 'with')]
      case 'p':
      case 'u':
        return quickChances(baseline)(model, after, horizon)
    }
  }
}

/** How the simulation is carried on and watched. */
export interface SimulationWatch {
  readonly charts: number
  readonly onChart?: (done: number) => void
}

/** Every rule, on seeded random charts that go on from the points of the phase. */
export function simulatedChances(
  baseline: PlannerBaseline,
  watch: SimulationWatch,
): { readonly chances: Chances; readonly alreadySignals: () => boolean } {
  let already = false
  const chances: Chances = (model, after, horizon) => {
    const answer = simulateTimeToSignal(
      baseline.ruleSet,
      processOf(baseline, model, after),
      baseline.sides ?? [],
      horizon,
      {
        charts: watch.charts,
        onProgress: (done) => {
          watch.onChart?.(done)
          return true
        },
      },
    )
    already = answer.alreadySignals
    return [...answer.chances]
  }
  return { chances, alreadySignals: () => already }
}

function processOf(
  { level, center: line, ruleSet }: PlannerBaseline,
  model: PointModel,
  after: number,
): ChangedProcess {
  const center = line ?? level
  switch (model.kind) {
    case 'normal':
      return { kind: 'normal', shift: (after - level) / model.sigma }
    case 'p':
    case 'u': {
      const { kind, denominators } = model
      // Limits are drawn about the pooled level; a run chart's centre is its median, in the chart's unit.
      const own = ruleSetOf(ruleSet).needsLimits ? {} : { center }
      return { kind, before: level, after, denominators, ...own }
    }
    case 't':
    case 'g':
      return { kind: model.kind, center, after: after / Math.LN2 }
  }
}
