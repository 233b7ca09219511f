import { AppError } from '../errors.ts'
import type { Interval } from './interval.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { requireLevel, requireNumbers } from './special/check.ts'
import { studentTQuantile, studentTTails } from './special/student-t.ts'

/** A difference of means with Welch's figures. */
export interface MeanDifference extends Interval {
  readonly standardError: number
  /** Welch–Satterthwaite degrees of freedom. */
  readonly df: number
  readonly t: number
  /** Two-sided. */
  readonly p: number
}

/**
 * Difference of two means by Welch's t, the variances not assumed equal.
 *
 * `d ± t(df) √(s1²/n1 + s2²/n2)`, with Satterthwaite's degrees of freedom.
 *
 * @param first  At least 2 values.
 * @param second At least 2 values, the comparator.
 * @param level  Two-sided confidence; default 0.95.
 * @returns First minus second, in the unit of the values.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`;
 *   `stats.constant` when neither group varies.
 *
 * @see Welch (1947), Biometrika 34:28.
 *
 * @example
 * meanDifference([1, 2, 3], [2, 4, 6]).estimate // => -2
 */
export function meanDifference(
  first: readonly number[],
  second: readonly number[],
  level = 0.95,
): MeanDifference {
  requireLevel(level)
  requireNumbers('The first group', first, 'finite', 2)
  requireNumbers('The second group', second, 'finite', 2)
  const a = meanAndSd(first)
  const b = meanAndSd(second)
  const va = (a.sd * a.sd) / a.n
  const vb = (b.sd * b.sd) / b.n
  if (va + vb === 0) {
    throw new AppError(
      'stats.constant',
      'Neither group varies, so the difference has no margin of error to compute.',
      'Report the plain difference, or record the values more finely.',
      { first: a.mean, second: b.mean },
    )
  }
  const standardError = Math.sqrt(va + vb)
  const share = va / (va + vb)
  const df = 1 / (share ** 2 / (a.n - 1) + (1 - share) ** 2 / (b.n - 1))
  const estimate = a.mean - b.mean
  const t = estimate / standardError
  const half = -studentTQuantile((1 - level) / 2, df) * standardError
  const p = 2 * studentTTails(-Math.abs(t), df).lower
  return {
    estimate,
    lower: estimate - half,
    upper: estimate + half,
    level,
    standardError,
    df,
    t,
    p,
  }
}
