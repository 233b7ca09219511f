import { LIMITS_ONLY, rulesFor } from './draft-phase.ts'
import { falseRunSignal } from './joint-runs.ts'
import { RULE_SETS, type RuleSet } from './rules.ts'
import { chanceOfSignal } from './run-length.ts'
import { crossingsLimit, longestRunLimit } from './runs-distribution.ts'
import {
  type ChartPlan,
  type SimulatedChance,
  type SimulationOptions,
  simulateSignals,
} from './simulate-signals.ts'
import type { Analysis, AnalysisPoint, AnalyzeOptions } from './types.ts'
import { lineTolerance } from './zones.ts'

/** How often a chart would show a signal although nothing changed. */
export interface FalseSignalChance {
  /** Chance of at least one signal on the whole chart, 0–1. */
  readonly chance: number
  /** Monte Carlo error of `chance`; 0 where it is exact. */
  readonly standardError: number
  /**
   * `exact`: counted, or by a Markov chain with limits taken as known. `simulated`: the whole
   * procedure with limits from the same points, on seeded random charts.
   */
  readonly method: 'exact' | 'simulated'
  /**
   * The same chance if centre and limits had been known beforehand, worked out when it is first
   * read; `null` for run chart rules.
   */
  readonly known: number | null
  /** Points the rules see. */
  readonly points: number
  /** One plain sentence. */
  readonly text: string
}

/** How much work to put into the answer. */
export interface FalseSignalOptions {
  /** Points to simulate in all; the charts follow from it. Default 40,000 (some 10 ms). */
  readonly budget?: number
  readonly seed?: number
  /** Called now and then with the share done, 0–1; returning `false` stops with what there is. */
  readonly onProgress?: (share: number) => boolean | undefined
  /** Options the analysis was made with, where it is an EWMA or CUSUM or has options of its own. */
  readonly analyze?: AnalyzeOptions
}

/** A phase as far as its error rate goes. */
interface PhaseFacts {
  readonly plan: ChartPlan
  readonly useful: number
  readonly ruleSet: RuleSet
}

/**
 * Chance that a chart like this one shows at least one signal although nothing changed: its kind,
 * rules, phases and numbers of points, with limits estimated as on the chart.
 *
 * Longest run and crossings about the median are counted exactly. Otherwise the procedure is
 * simulated with a fixed seed, so the same chart always gives the same answer; a chart too long to
 * simulate at once gets the exact chance for known limits. Phases count as independent.
 *
 * @param analysis Result of `analyze`.
 * @param options  Budget, seed, and the options of the analysis.
 * @returns The chance, its error and a sentence.
 * @see Champ & Woodall 1987, Technometrics 29:393; Anhøj & Wentzel-Larsen 2019, PLoS ONE 14:e0223233.
 *
 * @example
 * falseSignalChance({ kind: 'run', requestedKind: 'run', ruleSet: 'none', phases: [], points: [], signals: [], notes: [] }).chance // => 0
 */
export function falseSignalChance(
  analysis: Analysis,
  options: FalseSignalOptions = {},
): FalseSignalChance {
  const seen: AnalysisPoint[][] = analysis.phases.map(() => [])
  for (const point of analysis.points) {
    if (point.value !== null && point.leftOut === null) seen[point.phase]?.push(point)
  }
  const phases = seen.map((points, index) => phaseFacts(analysis, index, points, options))
  const points = phases.reduce((sum, { plan }) => sum + plan.points, 0)
  const budget = options.budget ?? 40_000
  const charts = Math.min(20_000, Math.floor(budget / Math.max(1, points)))
  let quiet = 1
  let variance = 0
  let method: 'exact' | 'simulated' = 'exact'
  let pointsDone = 0
  for (const phase of phases) {
    const before = pointsDone
    pointsDone += phase.plan.points
    const exact = exactChance(phase)
    if (exact !== null) {
      quiet *= 1 - exact
      continue
    }
    const known = charts < 200 ? knownChance(phase) : null
    if (known !== null) {
      quiet *= 1 - known
      continue
    }
    method = 'simulated'
    const onProgress =
      options.onProgress &&
      ((done: number, total: number) =>
        options.onProgress!((before + (phase.plan.points * done) / total) / points))
    const settings = { charts: Math.max(200, charts), seed: options.seed ?? 1 }
    const { plan, stretch } = shortened(phase.plan)
    const { chance, standardError } = simulatedOnce(plan, settings, onProgress)
    quiet *= (1 - chance) ** stretch
    if (chance < 1) variance += ((stretch * standardError) / (1 - chance)) ** 2
  }
  const chance = 1 - quiet
  let known: number | null | undefined
  return {
    chance,
    standardError: method === 'exact' ? 0 : quiet * Math.sqrt(variance),
    method,
    // Building the chain takes longer than all the rest, and few ask for it.
    get known() {
      if (known === undefined) known = knownForAll(phases)
      return known
    },
    points,
    text: sentence(points, chance, analysis.ruleSet === 'none'),
  }
}

/** Answers already simulated: a page asks again whenever it is drawn. The seed makes them the same. */
const simulated = new Map<string, SimulatedChance>()
const MOST_KEPT = 100

function simulatedOnce(
  plan: ChartPlan,
  settings: { readonly charts: number; readonly seed: number },
  onProgress: SimulationOptions['onProgress'],
): SimulatedChance {
  const key = JSON.stringify([plan, settings])
  const kept = simulated.get(key)
  if (kept !== undefined) {
    onProgress?.(settings.charts, settings.charts)
    return kept
  }
  const answer = simulateSignals(plan, onProgress ? { ...settings, onProgress } : settings)
  if (answer.charts === settings.charts) {
    if (simulated.size >= MOST_KEPT) simulated.clear()
    simulated.set(key, answer)
  }
  return answer
}

function phaseFacts(
  analysis: Analysis,
  index: number,
  seen: readonly AnalysisPoint[],
  { analyze: given }: FalseSignalOptions,
): PhaseFacts {
  const phase = analysis.phases[index]!
  const kind = phase.limits === 'none' ? 'run' : analysis.kind
  const asked = RULE_SETS[analysis.ruleSet]
  const ruleSet =
    kind === 'run' && asked.needsLimits ? RULE_SETS['run-length-adjusted'] : rulesFor(kind, asked)
  const base = phase.frozenThrough === null ? seen.length : Math.min(phase.n, seen.length)
  const plan: ChartPlan = {
    kind,
    ruleSet: ruleSet.id,
    points: seen.length,
    base,
    ...level(kind, seen.slice(0, base)),
    ...(kind.startsWith('p') || kind.startsWith('u')
      ? { denominators: seen.map((p) => p.denominator ?? 1) }
      : {}),
    ...(kind.startsWith('xbar') ? { sizes: seen.map((p) => p.size ?? 1) } : {}),
    options: standardOptions(given ?? {}),
  }
  const useful = seen.filter((p) => !onCenter(p)).length
  return { plan, useful, ruleSet }
}

/** Options for simulated charts, whose measurements have mean 0 and sigma 1. */
function standardOptions(given: AnalyzeOptions): AnalyzeOptions {
  const { per: _per, phases: _phases, target, sigma, ...rest } = given
  return {
    ...rest,
    ...(target === undefined ? {} : { target: 0 }),
    ...(sigma === undefined ? {} : { sigma: 1 }),
  }
}

/** Longest phase that is simulated as it is. */
const MOST_SIMULATED = 2_000

/** A very long phase as so many shorter ones: what a point signals depends on its neighbours only. */
function shortened(plan: ChartPlan): { plan: ChartPlan; stretch: number } {
  if (plan.points <= MOST_SIMULATED) return { plan, stretch: 1 }
  const { denominators, sizes, ...rest } = plan
  const base = Math.min(plan.base ?? MOST_SIMULATED, MOST_SIMULATED)
  const shorter: ChartPlan = {
    ...rest,
    points: MOST_SIMULATED,
    base,
    ...(typeof denominators === 'object'
      ? { denominators: denominators.slice(0, MOST_SIMULATED) }
      : {}),
    ...(typeof sizes === 'object' ? { sizes: sizes.slice(0, MOST_SIMULATED) } : {}),
  }
  return { plan: shorter, stretch: plan.points / MOST_SIMULATED }
}

function onCenter({ value, center }: AnalysisPoint): boolean {
  return Math.abs(value! - center!) <= lineTolerance(center!, Number.NaN)
}

/** The level of counted data, per unit of area. */
function level(kind: ChartPlan['kind'], base: readonly AnalysisPoint[]): { center?: number } {
  const sum = (of: (p: AnalysisPoint) => number | null) =>
    base.reduce((total, p) => total + (of(p) ?? 0), 0)
  switch (kind) {
    case 'p':
    case 'p-prime':
    case 'u':
    case 'u-prime':
      return { center: sum((p) => p.numerator) / sum((p) => p.denominator) }
    case 'c':
    case 'g':
      return { center: sum((p) => p.value) / base.length }
    default:
      return {}
  }
}

function exactChance({ plan, useful, ruleSet }: PhaseFacts): number | null {
  if (plan.points === 0) return 0
  if (ruleSet.pointRules.length === 0 && ruleSet.phaseRules.length === 0) return 0
  if (ruleSet.id === 'run-length-adjusted' && plan.base === plan.points && plan.kind === 'run') {
    if (useful < 10) return 0
    // Past 2,000 points the chance changes little, and counting it takes long.
    const n = Math.min(useful, 2000)
    return falseRunSignal(n, longestRunLimit(n), crossingsLimit(n), 'median')
  }
  return null
}

function knownForAll(phases: readonly PhaseFacts[]): number | null {
  let quiet = 1
  for (const phase of phases) {
    const chance = knownChance(phase)
    if (chance === null) return null
    quiet *= 1 - chance
  }
  return 1 - quiet
}

function knownChance({ plan, ruleSet }: PhaseFacts): number | null {
  if (ruleSet.phaseRules.length > 0) return null
  if (ruleSet.pointRules.length === 0 || plan.points === 0) return 0
  if (LIMITS_ONLY.has(plan.kind)) return null
  return chanceOfSignal(ruleSet.pointRules, plan.points)
}

function sentence(points: number, chance: number, noRules: boolean): string {
  const start = `With ${points} ${points === 1 ? 'point' : 'points'} and nothing changed, this chart would show`
  if (noRules) return 'No rules are chosen, so this chart shows no signals.'
  if (chance === 0) return `${start} no signal: there are too few points for its rules.`
  return `${start} at least one signal ${often(chance)}.`
}

function often(chance: number): string {
  if (chance >= 0.95) return 'nearly every time'
  if (chance >= 0.095) return times(Math.round(chance * 10), 10)
  if (chance >= 0.0095) return times(Math.round(chance * 100), 100)
  return 'less than 1 time in 100'
}

function times(k: number, of: number): string {
  return `about ${k} ${k === 1 ? 'time' : 'times'} in ${of}`
}
