import { requireNumber } from './special/check.ts'

/**
 * Log accuracy ratio, `ln(predicted / actual)`: 0 is right, above 0 too high, the same for twice as for half.
 *
 * @param predicted Above 0.
 * @param actual    Above 0, in the same unit.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Tofallis (2015), J Oper Res Soc 66:1352.
 *
 * @example
 * logAccuracyRatio(20, 10) // => 0.6931471806
 */
export function logAccuracyRatio(predicted: number, actual: number): number {
  requireNumber('The prediction', predicted, 'positive')
  requireNumber('The outcome', actual, 'positive')
  return Math.log(predicted) - Math.log(actual)
}
