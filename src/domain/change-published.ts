import { AppError } from '../errors.ts'
import { meanDifference } from '../stats/mean-difference.ts'
import { permutationDifference } from '../stats/permutation-difference.ts'
import { proportionDifference } from '../stats/proportion-difference.ts'
import { rateRatio } from '../stats/rate-ratio.ts'
import { fQuantile } from '../stats/special/f-distribution.ts'
import { normalQuantile } from '../stats/special/normal.ts'
import { timeRatio } from '../stats/time-ratio.ts'
import type { Change } from './change.ts'
import type { Scale, StudyPoint } from './study-points.ts'

/** Below this many values on either side the values are re-dealt (METHODS 5). */
export const EXACT_BELOW = 8

/** Makes waiting times close to normal: Nelson (1994), J Qual Technol 26:239. */
export const GAP_POWER = 1 / 3.6
/** Variance of an exponential time to that power over its squared mean: Γ(1 + 2/3.6) ÷ Γ(1 + 1/3.6)² − 1. */
export const GAP_VARIANCE = 0.0952

/** Gaps on the scale where they are close to normal; those counted in whole units by their middle. */
export function gapRoots(points: readonly StudyPoint[]): number[] {
  const shift = points.every(({ value }) => Number.isInteger(value)) ? 0.5 : 0
  return points.map(({ value }) => (value + shift) ** GAP_POWER)
}

/** A change and its interval, before anything is allowed for. */
export type Printed = Pick<Change, 'kind' | 'estimate' | 'interval' | 'method' | 'widened'>

/**
 * The change by the published interval of its data kind, each point standing by itself.
 *
 * @param byChance Whether gaps spread as those of events at a steady rate do; a typical gap is compared
 *   where they spread more.
 */
export function publishedChange(
  scale: Scale,
  logs: boolean,
  before: readonly StudyPoint[],
  test: readonly StudyPoint[],
  byChance: boolean,
): Printed {
  const total = (points: readonly StudyPoint[]) => ({
    top: points.reduce((sum, p) => sum + (p.numerator ?? 0), 0),
    bottom: points.reduce((sum, p) => sum + p.denominator, 0),
  })
  const a = total(test)
  const b = total(before)
  if (scale === 'share') {
    const d = proportionDifference(a.top, a.bottom, b.top, b.bottom)
    return { kind: 'difference', estimate: d.estimate, interval: d, method: 'newcombe', widened: 1 }
  }
  if (scale === 'rate') {
    const d = rateRatio(a.top, a.bottom, b.top, b.bottom)
    return {
      kind: 'ratio',
      estimate: d.estimate,
      interval: a.top + b.top === 0 ? null : d,
      method: 'conditional-ratio',
      widened: 1,
    }
  }
  if (scale === 'gap') {
    // Sums of n exponential gaps are chi-square with 2n degrees of freedom, so their ratio is F.
    const possible = a.bottom > 0 && b.bottom > 0
    const estimate = possible ? a.bottom / test.length / (b.bottom / before.length) : null
    const df1 = 2 * test.length
    const df2 = 2 * before.length
    if (possible && !byChance) {
      const roots = gapRoots([...before, ...test])
      const root = (part: readonly number[]) => part.reduce((sum, v) => sum + v, 0) / part.length
      const middle =
        (root(roots.slice(before.length)) / root(roots.slice(0, before.length))) ** (1 / GAP_POWER)
      const half =
        (-normalQuantile(0.025) / GAP_POWER) *
        Math.sqrt(GAP_VARIANCE * (1 / test.length + 1 / before.length))
      return {
        kind: 'ratio',
        estimate: middle,
        interval: { lower: middle * Math.exp(-half), upper: middle * Math.exp(half) },
        method: 'gap-root',
        widened: 1,
      }
    }
    return {
      kind: 'ratio',
      estimate,
      interval:
        estimate === null
          ? null
          : {
              lower: estimate / fQuantile(0.025, df1, df2, false),
              upper: estimate / fQuantile(0.025, df1, df2),
            },
      method: 'gap-ratio',
      widened: 1,
    }
  }
  const kind = logs ? 'ratio' : 'difference'
  const values = (points: readonly StudyPoint[]) =>
    points.map(({ value }) => (logs ? Math.log(value) : value))
  const back = (v: number) => (logs ? Math.exp(v) : v)
  const mean = (v: readonly number[]) => v.reduce((sum, x) => sum + x, 0) / v.length
  const estimate = back(mean(values(test)) - mean(values(before)))
  if (test.length < 2 || before.length < 2)
    return {
      kind,
      estimate,
      interval: { lower: back(-Infinity), upper: Infinity },
      method: logs ? 'permutation-log' : 'permutation',
      widened: 1,
    }
  try {
    if (test.length < EXACT_BELOW || before.length < EXACT_BELOW) {
      const d = permutationDifference(values(test), values(before), { draws: 4000 })
      return {
        kind,
        estimate,
        interval: { lower: back(d.lower), upper: back(d.upper) },
        method: logs ? 'permutation-log' : 'permutation',
        widened: 1,
      }
    }
    const plain = (points: readonly StudyPoint[]) => points.map(({ value }) => value)
    const d = (logs ? timeRatio : meanDifference)(plain(test), plain(before))
    return { kind, estimate, interval: d, method: logs ? 'welch-log' : 'welch', widened: 1 }
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return { kind, estimate, interval: null, method: null, widened: 1 }
  }
}
