import { AppError } from '../errors.ts'
import type { Interval } from './interval.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { chiSquareQuantile } from './special/chi-square.ts'
import { normalCdf, normalQuantile } from './special/normal.ts'

/** How a steady process fits between what is acceptable. */
export interface Capability {
  /** `(upper − lower) / 6 sigma`; `null` with one limit only. */
  readonly cp: number | null
  readonly cpLower: number | null
  readonly cpUpper: number | null
  /** The smaller of the two one-sided figures. */
  readonly cpk: number
  /** Share outside the limits, were the process normal. */
  readonly shareOutside: number
  /** Where n was given. */
  readonly cpInterval: Interval | null
  readonly cpkInterval: Interval | null
}

/**
 * Capability figures of a steady process against specification limits.
 *
 * `Cp = (U − L) / 6σ`, `Cpk = min((U − m), (m − L)) / 3σ`. Intervals where n is given: chi-square for Cp,
 * Bissell's normal one, `Cpk (1 ± z √(1/(9 n Cpk²) + 1/(2 (n − 1))))`, for Cpk.
 *
 * @param process `mean` and `sigma` of the process, sigma above 0; `n`, the values they come from, at least 2.
 * @param limits  `lower` and `upper` specification limits; one may be left out.
 * @param level   Confidence of the intervals; default 0.95.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`; `stats.no_limits` without any limit.
 *
 * @see NIST/SEMATECH e-Handbook, 6.1.6; Bissell (1990), Appl Stat 39:331 for the interval of Cpk.
 *
 * @example
 * capability({ mean: 16, sigma: 2 }, { lower: 8, upper: 20 }).cp // => 1
 */
export function capability(
  process: { readonly mean: number; readonly sigma: number; readonly n?: number },
  limits: { readonly lower?: number; readonly upper?: number },
  level = 0.95,
): Capability {
  const { mean, sigma, n } = process
  const { lower, upper } = limits
  requireLevel(level)
  requireNumber('The mean', mean, 'finite')
  requireNumber('Sigma', sigma, 'positive')
  if (lower !== undefined) requireNumber('The lower limit', lower, 'finite')
  if (upper !== undefined) requireNumber('The upper limit', upper, 'finite')
  if (lower === undefined && upper === undefined) {
    throw new AppError(
      'stats.no_limits',
      'There is no specification limit to hold the process against.',
      'Give a lower limit, an upper limit or both.',
    )
  }
  if (lower !== undefined && upper !== undefined && lower >= upper) {
    throw new AppError(
      'stats.out_of_range',
      `The lower limit ${lower} is not below the upper limit ${upper}.`,
      'Swap them.',
      { lower, upper },
    )
  }
  const cp = lower === undefined || upper === undefined ? null : (upper - lower) / (6 * sigma)
  const cpLower = lower === undefined ? null : (mean - lower) / (3 * sigma)
  const cpUpper = upper === undefined ? null : (upper - mean) / (3 * sigma)
  const cpk = Math.min(cpLower ?? Infinity, cpUpper ?? Infinity)
  const shareOutside =
    (cpLower === null ? 0 : normalCdf(-3 * cpLower)) +
    (cpUpper === null ? 0 : normalCdf(-3 * cpUpper))
  let cpInterval: Interval | null = null
  let cpkInterval: Interval | null = null
  if (n !== undefined) {
    requireNumber('The number of values', n, 'a whole count')
    requireNumber('The degrees of freedom', n - 1, 'positive')
    const tail = (1 - level) / 2
    if (cp !== null) {
      cpInterval = {
        estimate: cp,
        lower: cp * Math.sqrt(chiSquareQuantile(tail, n - 1) / (n - 1)),
        upper: cp * Math.sqrt(chiSquareQuantile(tail, n - 1, false) / (n - 1)),
        level,
      }
    }
    const half = -normalQuantile(tail) * Math.sqrt(1 / (9 * n) + cpk ** 2 / (2 * (n - 1)))
    cpkInterval = { estimate: cpk, lower: cpk - half, upper: cpk + half, level }
  }
  return { cp, cpLower, cpUpper, cpk, shareOutside, cpInterval, cpkInterval }
}
