import { type MeanDifference, meanDifference } from './mean-difference.ts'
import { requireNumbers } from './special/check.ts'

/**
 * Ratio of two typical times: Welch's t on the natural logs, turned back.
 *
 * The ratio is of geometric means, which for lognormal times are the medians.
 *
 * @param first  At least 2 times, all above 0.
 * @param second At least 2 times, all above 0; the comparator.
 * @param level  Two-sided confidence; default 0.95.
 * @returns First over second: 0.8 means a fifth less. `standardError`, `df` and `t` are on the log scale.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.constant`.
 *
 * @see Welch (1947), Biometrika 34:28; Bland & Altman (1996), BMJ 312:1153 for the back-transformation.
 *
 * @example
 * timeRatio([2, 8], [1, 4]).estimate // => 2
 */
export function timeRatio(
  first: readonly number[],
  second: readonly number[],
  level = 0.95,
): MeanDifference {
  requireNumbers('The first group', first, 'positive', 2)
  requireNumbers('The second group', second, 'positive', 2)
  const logs = meanDifference(first.map(Math.log), second.map(Math.log), level)
  return {
    ...logs,
    estimate: Math.exp(logs.estimate),
    lower: Math.exp(logs.lower),
    upper: Math.exp(logs.upper),
  }
}
