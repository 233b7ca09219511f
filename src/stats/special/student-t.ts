import { betaLogitQuantile, betaTails } from './beta.ts'
import { normalCdf, normalLogCdf, normalQuantile } from './normal.ts'
import { log1mExp, NO_TAILS, type Tails } from './numeric.ts'

/**
 * Tails of Student's t distribution, with logs.
 *
 * @param t  Any real number.
 * @param df Degrees of freedom, above 0; Infinity is the normal distribution.
 * @see Abramowitz & Stegun (1964), 26.7.1.
 * @example
 * studentTTails(0, 1).lower // => 0.5
 */
export function studentTTails(t: number, df: number): Tails {
  if (!(df > 0) || Number.isNaN(t)) return NO_TAILS
  if (df === Infinity) {
    return {
      lower: normalCdf(t),
      upper: normalCdf(-t),
      logLower: normalLogCdf(t),
      logUpper: normalLogCdf(-t),
    }
  }
  const square = t * t
  const x = square > df ? df / square / (1 + df / square) : df / (df + square)
  const y = square > df ? 1 / (1 + df / square) : square / (df + square)
  const both = betaTails(df / 2, 0.5, x, y)
  const logTail = both.logLower - Math.LN2
  const tail = both.lower / 2
  const rest = 0.5 + both.upper / 2
  const logRest = log1mExp(logTail)
  return t < 0
    ? { lower: tail, upper: rest, logLower: logTail, logUpper: logRest }
    : { lower: rest, upper: tail, logLower: logRest, logUpper: logTail }
}

/**
 * Student's t distribution function, P(T <= t).
 *
 * @example
 * studentTCdf(0, 5) // => 0.5
 */
export function studentTCdf(t: number, df: number): number {
  return studentTTails(t, df).lower
}

/**
 * Quantile of Student's t distribution. For an upper tail negate the answer.
 *
 * @param p 0 to 1.
 * @example
 * studentTQuantile(0.5, 5) // => 0
 */
export function studentTQuantile(p: number, df: number): number {
  if (!(df > 0 && p >= 0 && p <= 1)) return NaN
  if (df === Infinity) return normalQuantile(p)
  if (p === 0.5) return 0
  if (p > 0.5) return -studentTQuantile(1 - p, df)
  const logit =
    p < 0.25
      ? betaLogitQuantile(df / 2, 0.5, Math.log(2 * p), true)
      : betaLogitQuantile(df / 2, 0.5, Math.log(1 - 2 * p), false)
  return -Math.sqrt(df) * Math.exp(-logit / 2)
}
