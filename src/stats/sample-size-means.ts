import { type PlanOptions, requirePlan, type SampleSize, sizes } from './sample-size-proportions.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { noncentralTTails } from './special/noncentral-t.ts'
import { normalQuantile } from './special/normal.ts'
import { studentTQuantile } from './special/student-t.ts'

/**
 * Chance that a two-sample t test shows a difference of means.
 *
 * Both tails of the noncentral t distribution with `n1 + n2 − 2` degrees of freedom and
 * noncentrality `difference / (sd √(1/n1 + 1/n2))`.
 *
 * @param n1         Size of the first group, at least 1.
 * @param n2         Size of the second group, at least 1; 3 or more together.
 * @param difference Of the means, in the unit of `sd`.
 * @param sd         Standard deviation within a group, above 0.
 * @param options    `alpha`, default 0.05; `sides`, 1 or 2, default 2.
 * @returns 0 to 1. With one side, only a difference in the direction given counts.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Cohen (1988), Statistical Power Analysis for the Behavioral Sciences, 2nd ed., chapter 2.
 *
 * @example
 * powerForMeans(20, 20, 0, 1) // => 0.05
 */
export function powerForMeans(
  n1: number,
  n2: number,
  difference: number,
  sd: number,
  options: { readonly alpha?: number; readonly sides?: 1 | 2 } = {},
): number {
  const { alpha = 0.05, sides = 2 } = options
  requireNumber('The size of the first group', n1, 'positive')
  requireNumber('The size of the second group', n2, 'positive')
  requireNumber('The degrees of freedom', n1 + n2 - 3 + 1e-9, 'not negative')
  requireNumber('The difference', difference, 'finite')
  requireNumber('The standard deviation', sd, 'positive')
  requireLevel(alpha)
  const df = Math.max(1, n1 + n2 - 2)
  const delta = Math.abs(difference) / (sd * Math.sqrt(1 / n1 + 1 / n2))
  // The two quantiles agree to nine digits there, and only one of them is quick.
  const critical = -(df > 1e9 ? normalQuantile(alpha / sides) : studentTQuantile(alpha / sides, df))
  const right = noncentralTTails(critical, df, delta).upper
  return sides === 1 ? right : right + noncentralTTails(-critical, df, delta).lower
}

/**
 * Size of two groups that shows a difference of means with a two-sample t test.
 *
 * @param difference Of the means, in the unit of `sd`, not 0.
 * @param sd         Standard deviation within a group, above 0.
 * @param options    `alpha`, `power`, `ratio`; `sides`, 1 or 2, default 2.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`; `stats.no_difference` when it is 0.
 *
 * @see Cohen (1988), Statistical Power Analysis for the Behavioral Sciences, 2nd ed., table 2.4.1.
 *
 * @example
 * sampleSizeForMeans(0.5, 1).first // => 64
 */
export function sampleSizeForMeans(
  difference: number,
  sd: number,
  options: PlanOptions & { readonly sides?: 1 | 2 } = {},
): SampleSize {
  const { alpha = 0.05, power = 0.8, ratio = 1, sides = 2 } = options
  requireNumber('The difference', difference, 'finite')
  requireNumber('The standard deviation', sd, 'positive')
  requirePlan(alpha, power, ratio, difference)
  const least = Math.max(1, 1 / ratio, 3 / (1 + ratio))
  const reached = (n: number) => powerForMeans(n, n * ratio, difference, sd, { alpha, sides })
  if (reached(least) >= power) return sizes(least, ratio)
  // The normal formula is always a little too small; a bracket opens from there.
  const z = -normalQuantile(alpha / sides) + normalQuantile(power)
  let low = Math.max(least, (1 + 1 / ratio) * ((z * sd) / difference) ** 2)
  if (reached(low) >= power) low = least
  let high = Math.max(low * 1.02, low + 4)
  while (reached(high) < power) high *= 2
  // False position on the normal scale, where power is almost straight; the Illinois rule keeps it moving.
  const miss = (n: number) =>
    normalQuantile(Math.min(reached(n), 1 - 1e-16)) - normalQuantile(power)
  let missLow = miss(low)
  let missHigh = miss(high)
  let side = 0
  for (let i = 0; i < 100 && high - low > 1e-10 * high; i++) {
    const n = high - (missHigh * (high - low)) / (missHigh - missLow)
    const found = miss(n)
    if (Math.abs(found) < 1e-12) return sizes(n, ratio)
    if (found < 0) {
      low = n
      missLow = found
      if (side === -1) missHigh /= 2
      side = -1
    } else {
      high = n
      missHigh = found
      if (side === 1) missLow /= 2
      side = 1
    }
  }
  return sizes(high, ratio)
}
