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
  const deviations = Float64Array.from(values, (x) => x - mean)
  const drift = compensatedSum(deviations) / n
  const squares = compensatedSum(deviations.map((d) => (d - drift) * (d - drift)))
  return { n, mean: mean + drift, sd: Math.sqrt(squares / (n - 1)) }
}
