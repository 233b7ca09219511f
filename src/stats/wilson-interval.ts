import type { Interval } from './interval.ts'
import { requireFraction, requireLevel } from './special/check.ts'
import { normalQuantile } from './special/normal.ts'

/**
 * Wilson's score interval for a proportion.
 *
 * `(x + z²/2 ± z √(x (n − x) / n + z²/4)) / (n + z²)`.
 *
 * @param numerator   Count with the feature, whole, 0 to `denominator`.
 * @param denominator Count looked at, whole, at least 1.
 * @param level       Two-sided confidence, 0 to 1 exclusive; default 0.95.
 * @returns Proportion and limits, 0 to 1. At 0 of n the lower limit is 0; at n of n the upper is 1.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.numerator_over_denominator`.
 *
 * @see Wilson (1927), JASA 22:209; Newcombe (1998), Stat Med 17:857, method 3.
 *
 * @example
 * wilsonInterval(81, 263).lower // => 0.2552885198782742
 */
export function wilsonInterval(numerator: number, denominator: number, level = 0.95): Interval {
  requireFraction(numerator, denominator)
  requireLevel(level)
  const z = -normalQuantile((1 - level) / 2)
  const n = denominator
  const rest = n - numerator
  const half = z * Math.sqrt((numerator * rest) / n + (z * z) / 4)
  // The side near 0 (or 1) by its product form, which does not cancel.
  const low = numerator === 0 ? 0 : numerator ** 2 / n / (numerator + (z * z) / 2 + half)
  const high = rest === 0 ? 0 : rest ** 2 / n / (rest + (z * z) / 2 + half)
  return { estimate: numerator / n, lower: low, upper: 1 - high, level }
}
