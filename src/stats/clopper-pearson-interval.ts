import type { Interval } from './interval.ts'
import { betaQuantile } from './special/beta.ts'
import { requireFraction, requireLevel } from './special/check.ts'

/**
 * Clopper and Pearson's exact interval for a proportion.
 *
 * The limits are beta quantiles: `B(α/2; x, n − x + 1)` and `B(1 − α/2; x + 1, n − x)`.
 *
 * @param numerator   Count with the feature, whole, 0 to `denominator`.
 * @param denominator Count looked at, whole, at least 1.
 * @param level       Two-sided confidence, 0 to 1 exclusive; default 0.95.
 * @returns Proportion and limits, 0 to 1. It covers at least as often as `level` says, usually more.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.numerator_over_denominator`.
 *
 * @see Clopper & Pearson (1934), Biometrika 26:404.
 *
 * @example
 * clopperPearsonInterval(0, 20).upper // => 0.16843347098308534
 */
export function clopperPearsonInterval(
  numerator: number,
  denominator: number,
  level = 0.95,
): Interval {
  requireFraction(numerator, denominator)
  requireLevel(level)
  const tail = (1 - level) / 2
  const rest = denominator - numerator
  return {
    estimate: numerator / denominator,
    lower: numerator === 0 ? 0 : betaQuantile(numerator, rest + 1, tail),
    upper: rest === 0 ? 1 : betaQuantile(numerator + 1, rest, tail, false),
    level,
  }
}
