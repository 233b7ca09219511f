import { logGamma } from './log-gamma.ts'
import { normalCdf } from './normal.ts'
import { integrate } from './quadrature.ts'

/**
 * Tails of the noncentral t distribution, `T = (Z + delta) / sqrt(chi2 / df)`.
 *
 * The normal tail is averaged over the distribution of `s = sqrt(chi2 / df)` by quadrature; absolute
 * error about 1e-13.
 *
 * @param df    Degrees of freedom, at least 1.
 * @param delta Noncentrality.
 * @see Johnson, Kotz & Balakrishnan (1995), Continuous Univariate Distributions 2, eq. 31.10.
 * @example
 * noncentralTTails(-Infinity, 5, 1).lower // => 0
 */
export function noncentralTTails(
  t: number,
  df: number,
  delta: number,
): { lower: number; upper: number } {
  if (!(df >= 1) || Number.isNaN(t) || !Number.isFinite(delta)) return { lower: NaN, upper: NaN }
  if (t === -Infinity) return { lower: 0, upper: 1 }
  if (t === Infinity) return { lower: 1, upper: 0 }
  if (df > 1e9) return { lower: normalCdf(t - delta), upper: normalCdf(delta - t) }
  const half = df / 2
  const logConstant = Math.LN2 + half * Math.log(half) - logGamma(half)
  const spread = 1 / Math.sqrt(2 * df)
  const from = Math.max(0, 1 - 12 * spread)
  const to = 1 + 12 * spread
  const panels = Math.min(2000, 24 + Math.ceil((to - from) * Math.abs(t)))
  const lower = integrate(
    (s) => normalCdf(t * s - delta) * Math.exp(logConstant + (df - 1) * Math.log(s) - half * s * s),
    from,
    to,
    panels,
  )
  const upper = integrate(
    (s) => normalCdf(delta - t * s) * Math.exp(logConstant + (df - 1) * Math.log(s) - half * s * s),
    from,
    to,
    panels,
  )
  return { lower: Math.min(1, lower), upper: Math.min(1, upper) }
}
