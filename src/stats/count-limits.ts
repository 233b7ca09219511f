import {
  LOWER_TAIL,
  smallBinomialQuantile,
  smallPoissonQuantile,
  UPPER_TAIL,
} from './small-count-quantiles.ts'
import { requireNumber } from './special/check.ts'

/** Below this expected count the normal approximation gives way to the exact distribution. */
const SMALL_COUNT = 5

/** Limits of one point of a chart of counts, proportions or rates. */
export interface PointLimits {
  readonly sigma: number
  readonly lower: number
  readonly upper: number
  /** Whether they are probability limits of the exact distribution. */
  readonly exact: boolean
}

/**
 * Limits of one point of a P chart: p̄ ± 3 √(p̄(1−p̄)/n), kept within 0–1. Where n·p̄ < 5 they are
 * the 0.00135 and 0.99865 quantiles of Binomial(n, p̄), divided by n.
 *
 * @param center Pooled proportion p̄, 0–1.
 * @param n      Items inspected at this point, a whole number >= 1.
 * @param small  What to do where n·p̄ < 5: `exact` (default) or `sigma`.
 * @returns Sigma and limits as proportions; a point equal to a limit is inside it.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.3.2.
 *
 * @example
 * proportionLimits(0.5, 100) // => { sigma: 0.05, lower: 0.35, upper: 0.65, exact: false }
 */
export function proportionLimits(
  center: number,
  n: number,
  small: 'exact' | 'sigma' = 'exact',
): PointLimits {
  requireNumber('The centre of a P chart', center, 'a share')
  requireNumber('The denominator', n, 'positive')
  const sigma = Math.sqrt((center * (1 - center)) / n)
  if (small === 'exact' && n * center < SMALL_COUNT) {
    return {
      sigma,
      lower: smallBinomialQuantile(LOWER_TAIL, n, center) / n,
      upper: smallBinomialQuantile(UPPER_TAIL, n, center) / n,
      exact: true,
    }
  }
  return {
    sigma,
    lower: Math.max(0, center - 3 * sigma),
    upper: Math.min(1, center + 3 * sigma),
    exact: false,
  }
}

/**
 * Limits of one point of a U chart: ū ± 3 √(ū/n), not below 0. Where n·ū < 5 they are the 0.00135
 * and 0.99865 quantiles of Poisson(n·ū), divided by n.
 *
 * @param center Pooled rate ū per unit of area, >= 0.
 * @param area   Area of opportunity of this point, > 0.
 * @param small  What to do where n·ū < 5: `exact` (default) or `sigma`.
 * @returns Sigma and limits as rates per unit of area.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.3.1.
 *
 * @example
 * rateLimits(4, 4) // => { sigma: 1, lower: 1, upper: 7, exact: false }
 */
export function rateLimits(
  center: number,
  area: number,
  small: 'exact' | 'sigma' = 'exact',
): PointLimits {
  requireNumber('The centre', center, 'not negative')
  requireNumber('The area', area, 'positive')
  const sigma = Math.sqrt(center / area)
  const expected = center * area
  if (small === 'exact' && expected < SMALL_COUNT) {
    return {
      sigma,
      lower: smallPoissonQuantile(LOWER_TAIL, expected) / area,
      upper: smallPoissonQuantile(UPPER_TAIL, expected) / area,
      exact: true,
    }
  }
  return { sigma, lower: Math.max(0, center - 3 * sigma), upper: center + 3 * sigma, exact: false }
}

/**
 * Limits of a C chart: c̄ ± 3 √c̄, not below 0. Where c̄ < 5 they are the 0.00135 and 0.99865
 * quantiles of Poisson(c̄).
 *
 * @param center Mean count c̄, >= 0.
 * @param small  What to do where c̄ < 5: `exact` (default) or `sigma`.
 * @returns Sigma and limits as counts.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.3.1.
 *
 * @example
 * countLimits(16) // => { sigma: 4, lower: 4, upper: 28, exact: false }
 */
export function countLimits(center: number, small: 'exact' | 'sigma' = 'exact'): PointLimits {
  return rateLimits(center, 1, small)
}
