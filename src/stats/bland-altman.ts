import type { Interval } from './interval.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { requireLevel, requireNumber, requireNumbers, requireSameLength } from './special/check.ts'
import { studentTQuantile } from './special/student-t.ts'

/** How far two ways of measuring the same thing differ. */
export interface BlandAltman {
  readonly n: number
  /** Mean difference, first minus second, with its interval. */
  readonly bias: Interval
  readonly sd: number
  /** Limits of agreement: `bias − multiplier · sd` and `bias + multiplier · sd`, each with its interval. */
  readonly lowerLimit: Interval
  readonly upperLimit: Interval
  /** Mean and difference of each pair, for the plot. */
  readonly pairs: readonly { readonly mean: number; readonly difference: number }[]
}

/**
 * Bland and Altman's bias and limits of agreement of two timers or two methods.
 *
 * `bias ± 1.96 s`; the intervals use `s √(1/n)` for the bias and `s √(1/n + m² / (2 (n − 1)))` for a limit.
 *
 * @param first   One reading of each item, at least 3 items.
 * @param second  The other reading of each item, in the same order.
 * @param options `multiplier` m, default 1.96 (the 1986 paper prints 2); `level` of the intervals, default 0.95.
 * @returns In the unit of the readings. Identical differences give limits equal to the bias.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.length_mismatch`, `stats.out_of_range`.
 *
 * @see Bland & Altman (1986), Lancet 327:307; Bland & Altman (1999), Stat Methods Med Res 8:135.
 *
 * @example
 * blandAltman([10, 12, 14], [9, 12, 15]).bias.estimate // => 0
 */
export function blandAltman(
  first: readonly number[],
  second: readonly number[],
  options: { readonly multiplier?: number; readonly level?: number } = {},
): BlandAltman {
  const { multiplier = 1.96, level = 0.95 } = options
  requireLevel(level)
  requireNumber('The multiplier', multiplier, 'positive')
  requireSameLength('The first list', first, 'the second list', second)
  requireNumbers('The first list', first, 'finite', 3)
  requireNumbers('The second list', second, 'finite', 3)
  const pairs = first.map((x, i) => ({ mean: (x + second[i]!) / 2, difference: x - second[i]! }))
  const { n, mean, sd } = meanAndSd(pairs.map((pair) => pair.difference))
  const t = -studentTQuantile((1 - level) / 2, n - 1)
  const around = (estimate: number, standardError: number): Interval => ({
    estimate,
    lower: estimate - t * standardError,
    upper: estimate + t * standardError,
    level,
  })
  const limitError = sd * Math.sqrt(1 / n + multiplier ** 2 / (2 * (n - 1)))
  return {
    n,
    bias: around(mean, sd / Math.sqrt(n)),
    sd,
    lowerLimit: around(mean - multiplier * sd, limitError),
    upperLimit: around(mean + multiplier * sd, limitError),
    pairs,
  }
}
