import type { Interval } from '../../stats/interval.ts'
import { learningCurve } from '../../stats/learning-curve.ts'
import { meanAndSd } from '../../stats/mean-and-sd.ts'
import { medianOf } from '../../stats/median.ts'
import { studentTQuantile } from '../../stats/special/student-t.ts'
import type { Id } from '../record.ts'
import { byTable, isTimed, type RoundRow, type TimedRow } from './wrap-up-rounds.ts'

/** Below this many timed rounds no curve is fitted: two points lie on every curve. */
export const FEWEST_ROUNDS = 3
const LEVEL = 0.95

/** `T(n) = first · n^exponent`; n counts how often a table had done the task. */
interface Curve {
  /** T1, seconds. */
  readonly first: number
  readonly exponent: Interval
  /** 2^b: what each doubling of rounds multiplies the time by. */
  readonly progressRatio: Interval
}

export interface TableCurve {
  readonly tableId: Id
  readonly table: string
  /** Timed rounds. */
  readonly n: number
  /** `null`: fewer than three timed rounds. */
  readonly curve: Curve | null
}

export interface Learning {
  readonly tables: readonly TableCurve[]
  /**
   * The typical table: mean of the tables' own curves on the log scale. Its interval takes the
   * tables as the sample; with one table it is that table's own. `null`: no table has a curve.
   */
  readonly typical: Curve | null
  /** Tables the typical curve is made of. */
  readonly curves: number
}

/**
 * Learning curves of the tables, each by least squares on logs, and of the typical table.
 *
 * @param rows Rounds of one table or of all.
 * @see Wright (1936), J Aeronaut Sci 3:122; Matthews et al. (1990), BMJ 300:230 for one summary figure
 *   a table, so that rounds of one table are not taken for independent.
 */
export function learningOf(rows: readonly RoundRow[]): Learning {
  const tables = byTable(rows).map((own): TableCurve => {
    const timed = own.filter(isTimed)
    const { tableId, table } = own[0]!
    return { tableId, table, n: timed.length, curve: curveOf(timed) }
  })
  const curves = tables.flatMap(({ curve }) => (curve === null ? [] : [curve]))
  return { tables, typical: typicalOf(curves), curves: curves.length }
}

function curveOf(timed: readonly TimedRow[]): Curve | null {
  if (new Set(timed.map((row) => row.turn)).size < FEWEST_ROUNDS) return null
  const { first, exponent, progressRatio } = learningCurve(
    timed.map((row) => row.seconds),
    { rounds: timed.map((row) => row.turn), level: LEVEL },
  )
  return { first, exponent, progressRatio }
}

function typicalOf(curves: readonly Curve[]): Curve | null {
  if (curves.length < 2) return curves[0] ?? null
  const first = Math.exp(meanAndSd(curves.map((c) => Math.log(c.first))).mean)
  const { n, mean, sd } = meanAndSd(curves.map((c) => c.exponent.estimate))
  const half = (-studentTQuantile((1 - LEVEL) / 2, n - 1) * sd) / Math.sqrt(n)
  const exponent = { estimate: mean, lower: mean - half, upper: mean + half, level: LEVEL }
  return {
    first,
    exponent,
    progressRatio: {
      estimate: 2 ** mean,
      lower: 2 ** exponent.lower,
      upper: 2 ** exponent.upper,
      level: LEVEL,
    },
  }
}

/** Times of the tables in one round of the room. */
interface RoundSpread {
  readonly round: number
  readonly n: number
  readonly fastest: number
  readonly median: number
  readonly slowest: number
}

/** How far the tables lay apart, and whether they came closer. */
export interface Spread {
  /** Rounds with two timed tables or more. */
  readonly rounds: readonly RoundSpread[]
  /** Slowest over fastest in the first and last such round, over the tables timed in both. */
  readonly closer: {
    readonly tables: number
    readonly first: { readonly round: number; readonly ratio: number }
    readonly last: { readonly round: number; readonly ratio: number }
  } | null
}

export function spreadOf(rows: readonly RoundRow[]): Spread {
  const timed = rows.filter(isTimed)
  const numbers = [...new Set(timed.map((row) => row.round))].sort((a, b) => a - b)
  const rounds = numbers.flatMap((round): RoundSpread[] => {
    const times = timed.filter((row) => row.round === round).map((row) => row.seconds)
    if (times.length < 2) return []
    const ends = { fastest: Math.min(...times), slowest: Math.max(...times) }
    return [{ round, n: times.length, median: medianOf(new Float64Array(times)), ...ends }]
  })
  const [first, last] = [rounds[0], rounds.at(-1)]
  if (first === undefined || last === undefined || first === last) return { rounds, closer: null }
  const inRound = (round: number) =>
    new Map(timed.filter((row) => row.round === round).map((row) => [row.tableId, row.seconds]))
  const before = inRound(first.round)
  const after = inRound(last.round)
  const both = [...before.keys()].filter((id) => after.has(id))
  if (both.length < 2) return { rounds, closer: null }
  const ratio = (times: ReadonlyMap<Id, number>) => {
    const own = both.map((id) => times.get(id)!)
    return Math.max(...own) / Math.min(...own)
  }
  return {
    rounds,
    closer: {
      tables: both.length,
      first: { round: first.round, ratio: ratio(before) },
      last: { round: last.round, ratio: ratio(after) },
    },
  }
}
