import { AppError } from '../errors.ts'
import { meanAndSd } from './mean-and-sd.ts'
import type { MeanDifference } from './mean-difference.ts'
import { requireLevel, requireNumbers, requireSameLength } from './special/check.ts'
import { studentTQuantile, studentTTails } from './special/student-t.ts'

/**
 * Mean of paired differences with Student's interval.
 *
 * `mean(d) ± t(n − 1) s_d / √n`, with `d = first − second` of each pair.
 *
 * @param first  One value of each pair, at least 2.
 * @param second The other value of each pair, in the same order.
 * @param level  Two-sided confidence; default 0.95.
 * @returns First minus second, in the unit of the values.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.length_mismatch`,
 *   `stats.out_of_range`; `stats.constant` when all differences are equal.
 *
 * @see Student (1908), Biometrika 6:1.
 *
 * @example
 * pairedDifference([1, 3], [0, 0]).estimate // => 2
 */
export function pairedDifference(
  first: readonly number[],
  second: readonly number[],
  level = 0.95,
): MeanDifference {
  requireLevel(level)
  requireSameLength('The first list', first, 'the second list', second)
  requireNumbers('The first list', first, 'finite', 2)
  requireNumbers('The second list', second, 'finite', 2)
  const { n, mean, sd } = meanAndSd(first.map((x, i) => x - second[i]!))
  if (sd === 0) {
    throw new AppError(
      'stats.constant',
      `Every pair differs by ${mean}, so the difference has no margin of error to compute.`,
      'Report the plain difference, or record the values more finely.',
      { difference: mean },
    )
  }
  const standardError = sd / Math.sqrt(n)
  const df = n - 1
  const t = mean / standardError
  const half = -studentTQuantile((1 - level) / 2, df) * standardError
  const p = 2 * studentTTails(-Math.abs(t), df).lower
  return { estimate: mean, lower: mean - half, upper: mean + half, level, standardError, df, t, p }
}
