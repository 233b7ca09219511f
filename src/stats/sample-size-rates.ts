import { type PlanOptions, requirePlan } from './sample-size-proportions.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { normalCdf, normalQuantile } from './special/normal.ts'

/** Areas (bed-days, hours) that a comparison of rates needs. */
export interface SampleArea {
  readonly first: number
  readonly second: number
}

/**
 * Chance that two Poisson rates show their difference, by the score test of equal rates.
 *
 * `Φ((|λ1 − λ2| − z_α √(λ̄ (1/t1 + 1/t2))) / √(λ1/t1 + λ2/t2))`, with the pooled rate λ̄.
 *
 * @param area1 Area of the first period or group, above 0.
 * @param rate1 Events per unit of area, 0 or more.
 * @param area2 Area of the second, above 0.
 * @param rate2 Events per unit of area, 0 or more.
 * @param alpha Chance of a false alarm, two-sided; default 0.05.
 * @returns 0 to 1; only the direction of the real difference counts. Rough below about 5 events a side.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Gu, Ng, Tang & Schucany (2008), Biom J 50:283, the score statistic.
 *
 * @example
 * powerForRates(10, 0, 10, 0) // => 0
 */
export function powerForRates(
  area1: number,
  rate1: number,
  area2: number,
  rate2: number,
  alpha = 0.05,
): number {
  requireNumber('The first area', area1, 'positive')
  requireNumber('The second area', area2, 'positive')
  requireNumber('The first rate', rate1, 'not negative')
  requireNumber('The second rate', rate2, 'not negative')
  requireLevel(alpha)
  const pooled = (rate1 * area1 + rate2 * area2) / (area1 + area2)
  const whenEqual = Math.sqrt(pooled * (1 / area1 + 1 / area2))
  const real = Math.sqrt(rate1 / area1 + rate2 / area2)
  if (real === 0) return 0
  return normalCdf((Math.abs(rate1 - rate2) + normalQuantile(alpha / 2) * whenEqual) / real)
}

/**
 * Areas that show a difference of two Poisson rates; `powerForRates` solved for the areas.
 *
 * `t1 = (z_α √(λ̄ (1 + 1/r)) + z_β √(λ1 + λ2/r))² / (λ1 − λ2)²`.
 *
 * @param rate1   Events per unit of area, 0 or more.
 * @param rate2   Events per unit of area, 0 or more, not equal to the first.
 * @param options `alpha`, `power`; `ratio` is the second area over the first.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`; `stats.no_difference` when the rates are equal.
 *
 * @see Gu, Ng, Tang & Schucany (2008), Biom J 50:283, the score statistic.
 *
 * @example
 * Math.ceil(sampleSizeForRates(2, 1).first) // => 24
 */
export function sampleSizeForRates(
  rate1: number,
  rate2: number,
  options: PlanOptions = {},
): SampleArea {
  const { alpha = 0.05, power = 0.8, ratio = 1 } = options
  requireNumber('The first rate', rate1, 'not negative')
  requireNumber('The second rate', rate2, 'not negative')
  requirePlan(alpha, power, ratio, rate1 - rate2)
  const pooled = (rate1 + rate2 * ratio) / (1 + ratio)
  const root =
    -normalQuantile(alpha / 2) * Math.sqrt(pooled * (1 + 1 / ratio)) +
    normalQuantile(power) * Math.sqrt(rate1 + rate2 / ratio)
  const first = (root / (rate1 - rate2)) ** 2
  return { first, second: first * ratio }
}
