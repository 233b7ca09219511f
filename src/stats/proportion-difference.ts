import type { Interval } from './interval.ts'
import { wilsonInterval } from './wilson-interval.ts'

/**
 * Difference of two independent proportions with Newcombe's hybrid score interval (method 10).
 *
 * Wilson limits l and u of each proportion are combined:
 * `d − √((p1 − l1)² + (u2 − p2)²)` to `d + √((u1 − p1)² + (p2 − l2)²)`, with `d = p1 − p2`.
 *
 * @param numerator1   First group: count with the feature, whole.
 * @param denominator1 First group: count looked at, at least 1.
 * @param numerator2   Second group, the comparator.
 * @param denominator2 Second group, the comparator.
 * @param level        Two-sided confidence; default 0.95.
 * @returns First minus second, −1 to 1.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.numerator_over_denominator`.
 *
 * @see Newcombe (1998), Stat Med 17:873, method 10.
 *
 * @example
 * proportionDifference(56, 70, 48, 80).lower // => 0.05243147240236498
 */
export function proportionDifference(
  numerator1: number,
  denominator1: number,
  numerator2: number,
  denominator2: number,
  level = 0.95,
): Interval {
  const a = wilsonInterval(numerator1, denominator1, level)
  const b = wilsonInterval(numerator2, denominator2, level)
  const difference = a.estimate - b.estimate
  return {
    estimate: difference,
    lower: Math.max(-1, difference - Math.hypot(a.estimate - a.lower, b.upper - b.estimate)),
    upper: Math.min(1, difference + Math.hypot(a.upper - a.estimate, b.estimate - b.lower)),
    level,
  }
}
