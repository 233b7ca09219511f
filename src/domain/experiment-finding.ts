import type { FactorialDesign } from '../stats/factorial-design.ts'
import { factorialEffects } from '../stats/factorial-effects.ts'
import { lenth } from '../stats/lenth.ts'
import { inOrder } from './experiment.ts'
import { experimentDesign, levelsOf } from './experiment-design.ts'
import type { Experiment, ExperimentFactor, ExperimentRun } from './experiment-record.ts'
import { marginFactors, yardstick } from './experiment-size.ts'

/** `clear`: stands out even among so many; `possible`: only if looked at alone; `none`: neither. */
type Standing = 'clear' | 'possible' | 'none' | 'unjudged'

/** How a predicted effect came out. `open`: the runs fit it, and no effect at all as well. */
type PredictionFit = 'fits' | 'open' | 'misses' | 'unjudged'

export interface FoundEffect {
  /** Letters of the changes in it, such as `A` or `AB`. */
  readonly effect: string
  /** Single changes and pairs that cannot be told apart from it. */
  readonly mixedWith: readonly string[]
  /** Mean response at high minus at low; for a pair, half the difference between those differences. */
  readonly estimate: number
  /** Half-width of the margin over all effects together; `null` where there is none. */
  readonly margin: number | null
  readonly standing: Standing
  /** Whether the high level is the better one; `null` for pairs, and where no way is better. */
  readonly better: boolean | null
  readonly expected: number | null
  readonly fit: PredictionFit | null
}

/** Mean response at the four combinations of two changes. */
export interface PairMeans {
  readonly pair: string
  readonly lowLow: number
  readonly highLow: number
  readonly lowHigh: number
  readonly highHigh: number
}

interface BestSetting {
  /** One entry for each change that plays a part: its letter and the level to use. */
  readonly settings: readonly { readonly letter: string; readonly high: boolean }[]
  /** Mean response expected there from the effects that stand out. */
  readonly expected: number
}

export interface EffectsFinding {
  readonly kind: 'effects'
  readonly experiment: Experiment
  readonly factors: readonly ExperimentFactor[]
  readonly resolution: number | null
  readonly mean: number
  /** In the standard order of the design. */
  readonly effects: readonly FoundEffect[]
  readonly method: 'replicates' | 'lenth'
  readonly df: number
  readonly standardError: number
  /** Of one effect taken alone, and of all of them together; `null` where nothing scatters. */
  readonly alone: number | null
  readonly together: number | null
  /** Mean of the corners minus mean of the middle, with its own margin. */
  readonly curvature: { readonly difference: number; readonly margin: number | null } | null
  /** Means at the combinations of every pair of changes. */
  readonly pairs: readonly PairMeans[]
  readonly best: BestSetting | null
  /** Positions of runs that were left out. */
  readonly leftOut: readonly number[]
}

interface About {
  readonly experiment: Experiment
  readonly factors: readonly ExperimentFactor[]
}

/** What the runs of an experiment say, as figures. */
export type ExperimentFinding =
  /** Runs are still to be done, by position. */
  | (About & { readonly kind: 'running'; readonly open: readonly number[]; readonly of: number })
  /** All are done, but a combination has no response that counts. */
  | (About & { readonly kind: 'lost'; readonly leftOut: readonly number[] })
  /** Every response is the same. */
  | (About & { readonly kind: 'still'; readonly value: number; readonly runs: number })
  | EffectsFinding

/**
 * What a locked experiment found. Nothing is worked out before the last run is in, so that nobody
 * stops when the figures look good.
 *
 * Effects are contrasts of the means of the combinations. They are judged by the scatter of repeated
 * runs where that rests on enough of them, else by Lenth's pseudo standard error; the choice follows
 * from the runs that count, never from their responses.
 *
 * @param experiment A locked experiment.
 * @param factors    Its factors.
 * @param runs       Its runs, in any order.
 * @see Montgomery (2013), Design and Analysis of Experiments, chapters 6 and 8; Lenth (1989),
 *   Technometrics 31:469.
 */
export function experimentFinding(
  experiment: Experiment,
  factors: readonly ExperimentFactor[],
  runs: readonly ExperimentRun[],
): ExperimentFinding {
  const about = { experiment, factors: inOrder(factors) }
  const sorted = [...runs].sort((a, b) => a.position - b.position)
  const open = sorted.filter((run) => run.response === null && run.leftOutReason === null)
  if (open.length > 0)
    return { ...about, kind: 'running', open: open.map((r) => r.position), of: runs.length }
  const leftOut = sorted.filter((r) => r.leftOutReason !== null).map((r) => r.position)
  const counted = sorted.flatMap(({ levels, response, leftOutReason }) =>
    response === null || leftOutReason !== null ? [] : [{ levels, response }],
  )
  const design = experimentDesign(factors.length, experiment.generators ?? '')
  const cells = design.runs.map((run) => {
    const levels = levelsOf(run)
    return counted.filter((r) => r.levels === levels).map((r) => r.response)
  })
  if (cells.some((cell) => cell.length === 0)) return { ...about, kind: 'lost', leftOut }
  const first = counted[0]!.response
  if (counted.every((r) => r.response === first))
    return { ...about, kind: 'still', value: first, runs: counted.length }
  const center = counted.filter((r) => r.levels.startsWith('0')).map((r) => r.response)
  return { ...effectsOf(about, design, cells, center), leftOut }
}

function effectsOf(
  { experiment, factors }: About,
  design: FactorialDesign,
  cells: readonly (readonly number[])[],
  center: readonly number[],
): Omit<EffectsFinding, 'leftOut'> {
  const means = cells.map(mean)
  const { effects, mean: overall, curvature } = factorialEffects(design, means, center)
  const estimates = effects.map((e) => e.estimate)
  // The effects are contrasts of cell means, so uneven cells only change how sure they are.
  const errorDf = cells.reduce((n, c) => n + c.length - 1, Math.max(0, center.length - 1))
  const method = yardstick(effects.length, errorDf)
  const weights = cells.reduce((sum, cell) => sum + 1 / cell.length, 0)
  const spreadOfEffect = (2 / cells.length) * Math.sqrt(weights)
  let standardError: number
  let df: number
  if (method === 'replicates') {
    const squares = [...cells, center].reduce((sum, cell) => sum + squaresOf(cell), 0)
    standardError = Math.sqrt(squares / errorDf) * spreadOfEffect
    df = errorDf
  } else {
    const judged = lenth(estimates)
    standardError = judged.pse
    df = judged.df
  }
  // Repeats that agree to the last digit leave a rounding error, not a scatter.
  const scatters = standardError > 1e-12 * Math.max(...means.map(Math.abs), 1e-300)
  const factor = marginFactors(effects.length, df)
  const alone = scatters ? factor.alone * standardError : null
  const together = scatters ? factor.together * standardError : null
  const found = effects.map(({ effect, aliases, estimate }): FoundEffect => {
    const index = effect.length === 1 ? design.factors.indexOf(effect) : -1
    const expected = factors[index]?.expected ?? null
    const { better } = experiment
    return {
      effect,
      mixedWith: aliases.map((a) => a.replace('-', '')).filter((a) => a.length <= 2),
      estimate,
      margin: together,
      standing: standingOf(estimate, alone, together),
      better:
        index === -1 || better === null || estimate === 0
          ? null
          : estimate > 0 === (better === 'up'),
      expected,
      fit: expected === null ? null : fitOf(estimate, expected, together),
    }
  })
  const sigma = standardError / spreadOfEffect
  const bend = Math.sqrt(weights / cells.length ** 2 + 1 / Math.max(1, center.length))
  return {
    kind: 'effects',
    experiment,
    factors,
    resolution: design.resolution,
    mean: overall,
    effects: found,
    method,
    df,
    standardError,
    alone,
    together,
    curvature:
      curvature === null
        ? null
        : {
            difference: curvature.difference,
            margin: scatters ? factor.alone * sigma * bend : null,
          },
    pairs: pairMeans(design, means),
    best: bestSetting(experiment, design, overall, found),
  }
}

function standingOf(estimate: number, alone: number | null, together: number | null): Standing {
  if (alone === null || together === null) return 'unjudged'
  const size = Math.abs(estimate)
  return size > together ? 'clear' : size > alone ? 'possible' : 'none'
}

function fitOf(estimate: number, expected: number, margin: number | null): PredictionFit {
  if (margin === null) return 'unjudged'
  if (Math.abs(estimate - expected) > margin) return 'misses'
  return Math.abs(estimate) <= margin && expected !== 0 ? 'open' : 'fits'
}

function pairMeans(design: FactorialDesign, means: readonly number[]): PairMeans[] {
  return design.factors.flatMap((a, i) =>
    design.factors.slice(i + 1).map((b, step) => {
      const j = i + 1 + step
      const at = (x: 1 | -1, y: 1 | -1) =>
        mean(means.filter((_, r) => design.runs[r]![i] === x && design.runs[r]![j] === y))
      return {
        pair: a + b,
        lowLow: at(-1, -1),
        highLow: at(1, -1),
        lowHigh: at(-1, 1),
        highHigh: at(1, 1),
      }
    }),
  )
}

/**
 * The levels at which the effects that stand out add up best. A pair brings its single changes with
 * it; one that is mixed with others, or has three or more letters, cannot name a level.
 */
function bestSetting(
  { better }: Experiment,
  design: FactorialDesign,
  overall: number,
  effects: readonly FoundEffect[],
): BestSetting | null {
  const clear = effects.filter((e) => e.standing === 'clear')
  const usable = clear.every((e) => e.mixedWith.length === 0 && e.effect.length <= 2)
  if (better === null || clear.length === 0 || !usable) return null
  const letters = design.factors.filter((f) => clear.some((e) => e.effect.includes(f)))
  const model = effects.filter(
    (e) => clear.includes(e) || (e.effect.length === 1 && letters.includes(e.effect)),
  )
  const sign = better === 'up' ? 1 : -1
  let best: BestSetting | null = null
  for (let bits = 0; bits < 2 ** letters.length; bits++) {
    const settings = letters.map((letter, i) => ({ letter, high: ((bits >> i) & 1) === 1 }))
    const level = new Map(settings.map((s) => [s.letter, s.high ? 1 : -1]))
    const expected = model.reduce(
      (sum, e) => sum + (e.estimate / 2) * [...e.effect].reduce((s, l) => s * level.get(l)!, 1),
      overall,
    )
    if (best === null || sign * expected > sign * best.expected) best = { settings, expected }
  }
  return best
}

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length

function squaresOf(values: readonly number[]): number {
  const middle = mean(values)
  return values.reduce((sum, y) => sum + (y - middle) ** 2, 0)
}
