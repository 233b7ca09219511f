import { AppError } from '../errors.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { normalCdf, normalQuantile } from './special/normal.ts'

/** Options common to the planning of a comparison. */
export interface PlanOptions {
  /** Chance of a false alarm, two-sided; default 0.05. */
  readonly alpha?: number
  /** Chance of seeing the difference if it is real; default 0.8. */
  readonly power?: number
  /** Size of the second group over the first; default 1. */
  readonly ratio?: number
}

/** How many the first group needs. */
export interface SampleSize {
  /** As the formula gives it. */
  readonly exact: number
  /** Rounded up: whole items in the first group. */
  readonly first: number
  /** Whole items in the second group. */
  readonly second: number
}

/**
 * Size of two groups that shows a difference of proportions.
 *
 * `n = (z_α √((r+1) p̄ q̄) + z_β √(r p1 q1 + p2 q2))² / (r (p1 − p2)²)`; Fleiss's continuity
 * correction enlarges it to what an exact test needs.
 *
 * @param p1      Proportion expected in the first group, 0 to 1.
 * @param p2      Proportion expected in the second group, 0 to 1, not equal to p1.
 * @param options `alpha`, `power`, `ratio`, and `corrected` for the continuity correction (default off).
 * @throws AppError `stats.not_finite`, `stats.out_of_range`; `stats.no_difference` when p1 = p2.
 *
 * @see Fleiss, Levin & Paik (2003), Statistical Methods for Rates and Proportions, 3rd ed., eq. 4.14–4.19.
 *
 * @example
 * sampleSizeForProportions(0.5, 0.75, { power: 0.9 }).first // => 77
 */
export function sampleSizeForProportions(
  p1: number,
  p2: number,
  options: PlanOptions & { readonly corrected?: boolean } = {},
): SampleSize {
  const { alpha = 0.05, power = 0.8, ratio = 1, corrected = false } = options
  requireNumber('The first proportion', p1, 'a share')
  requireNumber('The second proportion', p2, 'a share')
  requirePlan(alpha, power, ratio, p1 - p2)
  const pooled = Math.min(1, (p1 + ratio * p2) / (1 + ratio))
  const difference = Math.abs(p1 - p2)
  const root =
    -normalQuantile(alpha / 2) * Math.sqrt((ratio + 1) * pooled * (1 - pooled)) +
    normalQuantile(power) * Math.sqrt(ratio * p1 * (1 - p1) + p2 * (1 - p2))
  let exact = root ** 2 / (ratio * difference ** 2)
  if (corrected) {
    exact = (exact / 4) * (1 + Math.sqrt(1 + (2 * (ratio + 1)) / (exact * ratio * difference))) ** 2
  }
  return sizes(exact, ratio)
}

/**
 * Chance that two groups of given sizes show a difference of proportions.
 *
 * @param n1    Size of the first group, above 0.
 * @param n2    Size of the second group, above 0.
 * @param p1    Proportion expected in the first group, 0 to 1.
 * @param p2    Proportion expected in the second group, 0 to 1.
 * @param alpha Chance of a false alarm, two-sided; default 0.05.
 * @returns 0 to 1; only the direction of the real difference counts.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Fleiss, Levin & Paik (2003), Statistical Methods for Rates and Proportions, 3rd ed., eq. 4.14 solved for power.
 *
 * @example
 * powerForProportions(50, 50, 0.5, 0.75) // => 0.7401659013
 */
export function powerForProportions(
  n1: number,
  n2: number,
  p1: number,
  p2: number,
  alpha = 0.05,
): number {
  requireNumber('The size of the first group', n1, 'positive')
  requireNumber('The size of the second group', n2, 'positive')
  requireNumber('The first proportion', p1, 'a share')
  requireNumber('The second proportion', p2, 'a share')
  requireLevel(alpha)
  const pooled = Math.min(1, (n1 * p1 + n2 * p2) / (n1 + n2))
  const null_ = Math.sqrt(pooled * (1 - pooled) * (1 / n1 + 1 / n2))
  const real = Math.sqrt((p1 * (1 - p1)) / n1 + (p2 * (1 - p2)) / n2)
  const excess = Math.abs(p1 - p2) + normalQuantile(alpha / 2) * null_
  if (real === 0) return excess > 0 ? 1 : 0
  return normalCdf(excess / real)
}

/**
 * Refuse a plan that cannot be: shared by the planners of this folder.
 *
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.no_difference`.
 * @example
 * requirePlan(0.05, 0.8, 1, 2) // => undefined
 */
export function requirePlan(alpha: number, power: number, ratio: number, difference: number): void {
  requireLevel(alpha)
  requireLevel(power)
  requireNumber('The ratio of the groups', ratio, 'positive')
  if (power <= alpha / 2) {
    throw new AppError(
      'stats.out_of_range',
      `The power is ${power}, no more than a false alarm would give.`,
      'Ask for a power such as 0.8.',
      { power, alpha },
    )
  }
  if (difference === 0) {
    throw new AppError(
      'stats.no_difference',
      'Both groups are expected to be the same, so no size can show a difference.',
      'Give the difference that would matter.',
      { difference },
    )
  }
}

/**
 * Both group sizes from the exact size of the first.
 *
 * @example
 * sizes(10.2, 2) // => { exact: 10.2, first: 11, second: 21 }
 */
export function sizes(exact: number, ratio: number): SampleSize {
  const up = (x: number) => Math.max(1, Math.ceil(x - 1e-9))
  return { exact, first: up(exact), second: up(exact * ratio) }
}
