import { AppError } from '../errors.ts'
import { requireLevel, requireNumber } from './special/check.ts'

/**
 * Interval score of a predicted range: its width, plus a penalty when the outcome falls outside.
 *
 * `(high − low) + (2/α) (low − x)₊ + (2/α) (x − high)₊`, with `α = 1 − confidence`. Lower is better;
 * an end of the range is inside.
 *
 * @param low        Low end of the range.
 * @param high       High end, not below the low end.
 * @param outcome    What happened, in the same unit.
 * @param confidence Stated chance that the range holds, 0 to 1 exclusive; default 0.8.
 * @returns In the unit of the outcome, 0 or more.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Gneiting & Raftery (2007), JASA 102:359, eq. 43.
 *
 * @example
 * intervalScore(20, 40, 45, 0.5) // => 40
 */
export function intervalScore(
  low: number,
  high: number,
  outcome: number,
  confidence = 0.8,
): number {
  requireNumber('The low end', low, 'finite')
  requireNumber('The high end', high, 'finite')
  requireNumber('The outcome', outcome, 'finite')
  requireLevel(confidence)
  if (low > high) {
    throw new AppError(
      'stats.out_of_range',
      `The low end ${low} is above the high end ${high}.`,
      'Swap them.',
      { low, high },
    )
  }
  const outside = Math.max(low - outcome, outcome - high, 0)
  return high - low + (2 / (1 - confidence)) * outside
}
