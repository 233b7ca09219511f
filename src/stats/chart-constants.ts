import { AppError } from '../errors.ts'
import { logGamma } from './special/log-gamma.ts'
import { normalCdf } from './special/normal.ts'
import { integrate } from './special/quadrature.ts'

/** Constants of charts of subgroups of n normal measurements, under their usual names. */
export interface ChartConstants {
  /** E(R)/sigma: mean range. */
  readonly d2: number
  /** SD(R)/sigma. */
  readonly d3: number
  /** E(S)/sigma: mean sample standard deviation. */
  readonly c4: number
  /** SD(S)/sigma. */
  readonly c5: number
  /** Limits of a mean where sigma is known. */
  readonly A: number
  readonly A2: number
  readonly A3: number
  readonly B3: number
  readonly B4: number
  readonly B5: number
  readonly B6: number
  readonly D1: number
  readonly D2: number
  readonly D3: number
  readonly D4: number
  readonly E2: number
}

const kept = new Map<number, ChartConstants>()

/**
 * Constants of X-bar, S, R and individuals charts for subgroups of n, worked out from their
 * definitions (never read from a table).
 *
 * c4 = √(2/(n−1)) Γ(n/2) / Γ((n−1)/2); d2 = ∫ 1 − Φ(x)^n − (1−Φ(x))^n dx; d3 from E(R²), a double
 * integral; c5 = √(1−c4²); A = 3/√n, A2 = 3/(d2√n), A3 = 3/(c4√n), B4 and B3 = 1 ± 3√(1−c4²)/c4, D4 and D3 = 1 ± 3 d3/d2,
 * E2 = 3/d2; B3, B5, D1 and D3 are not below 0.
 *
 * @param n Measurements in a subgroup, a whole number from 2 to 1,000.
 * @returns The constants, to about 1e-10.
 * @throws AppError `stats.out_of_range`.
 * @see ISO 7870-2:2023, annex; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.
 *
 * @example
 * Math.round(chartConstants(5).A2 * 1e4) / 1e4 // => 0.5768
 */
export function chartConstants(n: number): ChartConstants {
  const known = kept.get(n)
  if (known !== undefined) return known
  const c4 = meanDeviationFactor(n)
  const d2 = meanRangeFactor(n)
  const d3 = rangeDeviationFactor(n, d2)
  const spread = Math.sqrt(Math.max(0, 1 - c4 * c4))
  const root = Math.sqrt(n)
  const constants: ChartConstants = {
    d2,
    d3,
    c4,
    c5: spread,
    A: 3 / root,
    A2: 3 / (d2 * root),
    A3: 3 / (c4 * root),
    B3: Math.max(0, 1 - (3 * spread) / c4),
    B4: 1 + (3 * spread) / c4,
    B5: Math.max(0, c4 - 3 * spread),
    B6: c4 + 3 * spread,
    D1: Math.max(0, d2 - 3 * d3),
    D2: d2 + 3 * d3,
    D3: Math.max(0, 1 - (3 * d3) / d2),
    D4: 1 + (3 * d3) / d2,
    E2: 3 / d2,
  }
  kept.set(n, constants)
  return constants
}

/**
 * c4: the mean of the sample standard deviation of n normal measurements, in sigmas.
 *
 * @param n Measurements, a whole number from 2 to 1,000.
 * @returns c4 = √(2/(n−1)) Γ(n/2) / Γ((n−1)/2).
 * @throws AppError `stats.out_of_range`.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.
 *
 * @example
 * Math.round(meanDeviationFactor(5) * 1e4) / 1e4 // => 0.94
 */
export function meanDeviationFactor(n: number): number {
  checkSize(n)
  return Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2))
}

/**
 * d2: the mean range of n normal measurements, in sigmas.
 *
 * @param n Measurements, a whole number from 2 to 1,000.
 * @returns d2 = ∫ 1 − Φ(x)^n − (1−Φ(x))^n dx.
 * @throws AppError `stats.out_of_range`.
 * @see Tippett 1925, Biometrika 17:364.
 *
 * @example
 * Math.round(meanRangeFactor(2) * 1e9) / 1e9 // => 1.128379167
 */
export function meanRangeFactor(n: number): number {
  checkSize(n)
  // The integrand is even; past 10 sigma nothing is left of it even for n = 1,000.
  return 2 * integrate((x) => 1 - normalCdf(x) ** n - normalCdf(-x) ** n, 0, 10, 12)
}

function rangeDeviationFactor(n: number, d2: number): number {
  // E(R²) = 2 ∬ over x < y of P(smallest <= x and largest > y).
  const square =
    2 *
    integrate(
      (x) => {
        const below = normalCdf(x)
        const noneBelow = normalCdf(-x) ** n
        return integrate(
          (y) => {
            const upTo = normalCdf(y)
            return 1 - upTo ** n - noneBelow + (upTo - below) ** n
          },
          x,
          10,
          6,
        )
      },
      -10,
      10,
      12,
    )
  return Math.sqrt(square - d2 * d2)
}

function checkSize(n: number): void {
  if (Number.isInteger(n) && n >= 2 && n <= 1000) return
  throw new AppError(
    'stats.out_of_range',
    `Chart constants are known for subgroups of 2 to 1,000, not ${n}.`,
    'Use subgroups of at least 2 measurements, or an individuals chart for single ones.',
    { n },
  )
}
