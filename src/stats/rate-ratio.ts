import { betaLogitQuantile } from './special/beta.ts'
import { requireLevel, requireNumber } from './special/check.ts'

/** A ratio of two rates; `estimate` is `null` where the second count is 0. */
export interface RateRatio {
  readonly estimate: number | null
  readonly lower: number
  /** `Infinity` where the second count is 0. */
  readonly upper: number
  readonly level: number
}

/**
 * Ratio of two Poisson rates with the exact conditional interval.
 *
 * Given the total, the first count is binomial; Clopper–Pearson limits of its share, as odds, times
 * `area2 / area1` are the limits of the ratio.
 *
 * @param count1 Events in the first period or group, whole.
 * @param area1  Its area, above 0.
 * @param count2 Events in the second, the comparator, whole.
 * @param area2  Its area, above 0, in the same unit.
 * @param level  Two-sided confidence; default 0.95.
 * @returns First rate over second.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Przyborowski & Wilenski (1940), Biometrika 31:313; Clopper & Pearson (1934), Biometrika 26:404.
 *
 * @example
 * rateRatio(11, 800, 21, 3011).lower // => 0.858426403391834
 */
export function rateRatio(
  count1: number,
  area1: number,
  count2: number,
  area2: number,
  level = 0.95,
): RateRatio {
  requireNumber('The first count', count1, 'a whole count')
  requireNumber('The second count', count2, 'a whole count')
  requireNumber('The first area', area1, 'positive')
  requireNumber('The second area', area2, 'positive')
  requireLevel(level)
  const logTail = Math.log((1 - level) / 2)
  const scale = area2 / area1
  return {
    estimate: count2 === 0 ? null : (count1 / count2) * scale,
    lower:
      count1 === 0 ? 0 : scale * Math.exp(betaLogitQuantile(count1, count2 + 1, logTail, true)),
    upper:
      count2 === 0
        ? Infinity
        : scale * Math.exp(betaLogitQuantile(count1 + 1, count2, logTail, false)),
    level,
  }
}
