import type { Interval } from '../../stats/interval.ts'
import { meanAndSd } from '../../stats/mean-and-sd.ts'
import { studentTQuantile } from '../../stats/special/student-t.ts'
import { DECISIONS, type DecisionKind } from '../record.ts'
import { type RoundRow, stepsOf } from './wrap-up-rounds.ts'

/** Below this many rounds no interval is given: it would span everything. */
const FEWEST_FOR_INTERVAL = 3
const LEVEL = 0.95

/** What the next round was like after decisions of one kind. */
export interface DecisionYield {
  readonly kind: DecisionKind
  /** Rounds that followed such a decision and are timed, like the one before them. */
  readonly n: number
  /** Time of the next round over the time before: below 1 is faster. In order of size. */
  readonly ratios: readonly number[]
  /** Geometric mean of the ratios, with Student's interval on logs from three rounds on. */
  readonly typical: number | null
  readonly interval: Interval | null
  /** Of the next rounds with quality in both: fewer, as many, and more items right. */
  readonly fewerRight: number
  readonly asManyRight: number
  readonly moreRight: number
}

/**
 * Times of next rounds over the times before, by what was decided in between. Practice is in all of
 * them: the figures compare, they do not prove.
 *
 * @returns Adopt, adapt and abandon, each that a timed round followed.
 */
export function decisionYields(rows: readonly RoundRow[]): DecisionYield[] {
  const steps = stepsOf(rows)
  return DECISIONS.flatMap((kind) => {
    const own = steps.filter(({ from }) => from.state.decision?.kind === kind)
    if (own.length === 0) return []
    const ratios = own.map(({ from, to }) => to.seconds / from.seconds).sort((a, b) => a - b)
    const sides = own.flatMap(({ from, to }) =>
      from.share === null || to.share === null
        ? []
        : [Math.abs(to.share - from.share) < 1e-9 ? 0 : Math.sign(to.share - from.share)],
    )
    const count = (side: number) => sides.filter((s) => s === side).length
    return [
      {
        kind,
        n: own.length,
        ratios,
        ...typicalRatio(ratios),
        fewerRight: count(-1),
        asManyRight: count(0),
        moreRight: count(1),
      },
    ]
  })
}

function typicalRatio(ratios: readonly number[]): Pick<DecisionYield, 'typical' | 'interval'> {
  const logs = ratios.map(Math.log)
  const typical = Math.exp(logs.reduce((a, b) => a + b, 0) / logs.length)
  if (ratios.length < FEWEST_FOR_INTERVAL) return { typical, interval: null }
  const { n, mean, sd } = meanAndSd(logs)
  const half = (-studentTQuantile((1 - LEVEL) / 2, n - 1) * sd) / Math.sqrt(n)
  const interval = {
    estimate: typical,
    lower: Math.exp(mean - half),
    upper: Math.exp(mean + half),
    level: LEVEL,
  }
  return { typical, interval }
}
