import type { Interval } from './interval.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { gammaQuantile } from './special/gamma.ts'

/**
 * Exact interval for a rate: a Poisson count over the area it was counted in.
 *
 * Garwood's limits are gamma quantiles of the count: `Γ(α/2; x)` and `Γ(1 − α/2; x + 1)`, over the area.
 * With the expected count as area it is the interval of a standardised ratio, observed over expected.
 *
 * @param count Events, whole, 0 or more.
 * @param area  What they were counted in (bed-days, hours, expected events); above 0; default 1.
 * @param level Two-sided confidence; default 0.95.
 * @returns Events per unit of area.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Garwood (1936), Biometrika 28:437.
 *
 * @example
 * poissonInterval(3).upper // => 8.767273069742323
 */
export function poissonInterval(count: number, area = 1, level = 0.95): Interval {
  requireNumber('The count', count, 'a whole count')
  requireNumber('The area', area, 'positive')
  requireLevel(level)
  const logTail = Math.log((1 - level) / 2)
  return {
    estimate: count / area,
    lower: count === 0 ? 0 : gammaQuantile(count, logTail, true) / area,
    upper: gammaQuantile(count + 1, logTail, false) / area,
    level,
  }
}
