import { AppError } from '../errors.ts'
import { checkOptions } from './analyze-options.ts'
import { binomialDraw, type Draw, geometricDraw, poissonDraw } from './chance-draws.ts'
import { emptyLines } from './chart-lines.ts'
import type { Columns } from './columns.ts'
import { draftPhase } from './draft-phase.ts'
import { hasSignal } from './phase-signals.ts'
import type { PhaseSpan } from './phases.ts'
import { ruleSetOf } from './rules.ts'
import { createRandom, type Random } from './special/random.ts'
import type { AnalyzeOptions, ChartKind, RuleSetId } from './types.ts'

/** One phase of a chart to be drawn over and over from a process that never changes. */
export interface ChartPlan {
  readonly kind: ChartKind
  readonly ruleSet: RuleSetId
  /** Points in the phase, 1 to 100,000. */
  readonly points: number
  /** How many of them, from the first on, set centre and limits. Default: all. */
  readonly base?: number
  /**
   * P and P′: the proportion, 0–1. U and U′: events per unit of area. C: mean count. G: mean cases
   * between events. Not used by the other kinds, whose error rates do not depend on the level.
   */
  readonly center?: number
  /** P and U: one denominator for all points, or one for each. Default 1. */
  readonly denominators?: number | readonly number[]
  /** X-bar: measurements in each subgroup. Default 5. */
  readonly sizes?: number | readonly number[]
  /** EWMA, CUSUM, G and small-count options as for `analyze`. */
  readonly options?: AnalyzeOptions
}

/** A chance found by simulation. */
export interface SimulatedChance {
  /** Share of the charts with at least one signal, 0–1. */
  readonly chance: number
  /** Monte Carlo standard error of it. */
  readonly standardError: number
  readonly charts: number
}

/** How to simulate. */
export interface SimulationOptions {
  /** Charts to draw, 1 to 10,000,000. Default 10,000. */
  readonly charts?: number
  /** The same seed gives the same answer on every machine. Default 1. */
  readonly seed?: number
  /** Called now and then with the charts done; return `false` to stop early. */
  readonly onProgress?: (done: number, total: number) => boolean | undefined
}

/**
 * Chance that a chart shows at least one signal although nothing changes, with centre and limits
 * estimated from the same points: the whole procedure is carried out on seeded random charts.
 *
 * Measurements are normal, proportions binomial, counts and rates Poisson, cases between events
 * geometric, times between events exponential.
 *
 * @param plan     The chart.
 * @param settings Number of charts, seed, progress.
 * @returns The share with a signal and its Monte Carlo error √(p(1−p)/charts).
 * @throws AppError `stats.out_of_range`, `stats.bad_option`, `stats.unknown_rule_set`.
 *
 * @example
 * simulateSignals({ kind: 'run', ruleSet: 'none', points: 20 }, { charts: 10 }).chance // => 0
 */
export function simulateSignals(
  plan: ChartPlan,
  settings: SimulationOptions = {},
): SimulatedChance {
  const { points } = plan
  const base = plan.base ?? points
  const charts = settings.charts ?? 10_000
  checkWhole('points', points, 1, 100_000)
  checkWhole('base', base, 1, points)
  checkWhole('charts', charts, 1, 10_000_000)
  const options = plan.options ?? {}
  checkOptions(options)
  const ruleSet = ruleSetOf(plan.ruleSet)
  const { columns, draw } = processOf(plan)
  const lines = emptyLines(new Float64Array(points))
  const span: PhaseSpan = {
    start: 0,
    end: points,
    baseEnd: base,
    frozenThrough: null,
    reason: null,
  }
  const random = createRandom(settings.seed ?? 1)
  // Often enough for a progress bar, seldom enough to cost nothing.
  const stride = Math.max(1, Math.min(1000, Math.ceil(charts / 50)))
  let signals = 0
  let done = 0
  while (done < charts) {
    draw(random)
    lines.plotted.set(columns.values)
    const draft = draftPhase(plan.kind, columns, span, lines, ruleSet, options)
    if (hasSignal(draft.values, draft.zones, draft.ruleSet)) signals++
    done++
    if (done % stride === 0 && settings.onProgress?.(done, charts) === false) break
  }
  const chance = signals / done
  return { chance, standardError: Math.sqrt((chance * (1 - chance)) / done), charts: done }
}

/** Columns to be overwritten chart after chart, and the draw that does so. */
function processOf(plan: ChartPlan): { columns: Columns; draw: (random: Random) => void } {
  const { kind, points } = plan
  const values = new Float64Array(points)
  const counts = new Uint8Array(points).fill(1)
  const plain: Columns = {
    n: points,
    values,
    numerators: null,
    denominators: null,
    subgroups: null,
    counts,
    zeroDenominators: 0,
  }
  const fill = (draw: Draw) => ({
    columns: plain,
    draw: (random: Random) => {
      for (let i = 0; i < points; i++) values[i] = draw(random)
    },
  })
  switch (kind) {
    // Only the order of the points matters to a run chart, so any continuous values will do.
    case 'run':
      return fill((random) => random.uniform())
    case 'individuals':
    case 'moving-range':
    case 'ewma':
    case 'cusum':
      return fill((random) => random.normal())
    case 't':
      return fill((random) => -Math.log1p(-random.uniform()))
    case 'g':
      return fill(geometricDraw(1 / (centerOf(plan, Number.POSITIVE_INFINITY) + 1)))
    case 'c':
      return fill(poissonDraw(centerOf(plan, Number.POSITIVE_INFINITY)))
    case 'xbar-s':
    case 'xbar-r': {
      const sizes = each(plan.sizes ?? 5, points, 'sizes')
      const subgroups = Array.from(sizes, (size) => new Array<number>(size).fill(0))
      return {
        columns: { ...plain, subgroups },
        draw: (random) => {
          for (const [i, group] of subgroups.entries()) {
            let sum = 0
            for (let k = 0; k < group.length; k++) {
              const x = random.normal()
              group[k] = x
              sum += x
            }
            values[i] = sum / group.length
          }
        },
      }
    }
    case 'p':
    case 'p-prime':
    case 'u':
    case 'u-prime': {
      const proportion = kind === 'p' || kind === 'p-prime'
      const center = centerOf(plan, proportion ? 1 : Number.POSITIVE_INFINITY)
      const denominators = each(plan.denominators ?? 1, points, 'denominators')
      const tables = new Map<number, Draw>()
      const draws = Array.from(denominators, (n) => {
        let draw = tables.get(n)
        if (draw === undefined) {
          draw = proportion ? binomialDraw(n, center) : poissonDraw(n * center)
          tables.set(n, draw)
        }
        return draw
      })
      const numerators = new Float64Array(points)
      const scale = proportion ? 1 : (plan.options?.per ?? 1)
      return {
        columns: { ...plain, numerators, denominators },
        draw: (random) => {
          for (let i = 0; i < points; i++) {
            numerators[i] = draws[i]!(random)
            values[i] = (numerators[i]! / denominators[i]!) * scale
          }
        },
      }
    }
  }
}

function centerOf(plan: ChartPlan, most: number): number {
  const { center } = plan
  if (center !== undefined && center >= 0 && center <= most && Number.isFinite(center))
    return center
  throw outOfRange('center', center, most === 1 ? 'from 0 to 1' : 'zero or more')
}

function each(given: number | readonly number[], n: number, name: string): Float64Array {
  const column =
    typeof given === 'number' ? new Float64Array(n).fill(given) : Float64Array.from(given)
  if (column.length !== n) throw outOfRange(name, column.length, `one for each of the ${n} points`)
  for (const x of column) {
    if (!Number.isFinite(x) || x <= 0) throw outOfRange(name, x, 'above zero')
  }
  return column
}

function checkWhole(name: string, value: number, least: number, most: number): void {
  if (Number.isInteger(value) && value >= least && value <= most) return
  throw outOfRange(name, value, `a whole number from ${least} to ${most}`)
}

function outOfRange(name: string, value: unknown, range: string): AppError {
  return new AppError(
    'stats.out_of_range',
    `For a simulated chart ${name} cannot be ${value}.`,
    `It must be ${range}.`,
    { name, value },
  )
}
