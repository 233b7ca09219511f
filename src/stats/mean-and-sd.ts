import { requireNumbers } from './special/check.ts'
import { compensatedSum } from './special/numeric.ts'

/** Mean and standard deviation of n values. */
export interface MeanAndSd {
  readonly n: number
  readonly mean: number
  /** With divisor n − 1. */
  readonly sd: number
}

/**
 * Mean and standard deviation, in two passes so that large offsets do not drown the spread.
 *
 * @param values At least 2, all finite; any order.
 * @returns In the unit of the values.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`.
 *
 * @see Chan, Golub & LeVeque (1983), Am Stat 37:242, the corrected two-pass algorithm.
 *
 * @example
 * meanAndSd([10000001, 10000003, 10000002]) // => { n: 3, mean: 10000002, sd: 1 }
 */
export function meanAndSd(values: ArrayLike<number>): MeanAndSd {
  requireNumbers('The values', values, 'finite', 2)
  const n = values.length
  const mean = compensatedSum(values) / n
  const deviations = new Float64Array(n)
  for (let i = 0; i < n; i++) deviations[i] = values[i]! - mean
  const drift = compensatedSum(deviations) / n
  for (let i = 0; i < n; i++) deviations[i] = (deviations[i]! - drift) ** 2
  const squares = compensatedSum(deviations)
  return { n, mean: mean + drift, sd: Math.sqrt(squares / (n - 1)) }
}
