import { solveLogTail } from './gamma.ts'
import { devianceTerm, stirlingError } from './log-gamma.ts'
import {
  log1mExp,
  NO_TAILS,
  NOTHING_ABOVE,
  NOTHING_BELOW,
  type Tails,
  tailsFromLog,
} from './numeric.ts'

/**
 * Log of the binomial probability for real counts, `log(C(x + y, x) p^x q^y)`.
 *
 * @param y Count of failures; passed apart so that a tiny one keeps its digits.
 * @param q `1 - p`, passed apart so that a tiny one keeps its digits.
 * @see Loader (2000), Fast and accurate computation of binomial probabilities.
 * @example
 * logBinomialTerm(1, 0, 1, 0) // => 0
 */
export function logBinomialTerm(x: number, y: number, p: number, q: number): number {
  const n = x + y
  if (p === 0) return x === 0 ? 0 : -Infinity
  if (q === 0) return y === 0 ? 0 : -Infinity
  if (n === 0) return 0
  if (x === 0) return n * (p < q ? Math.log1p(-p) : Math.log(q))
  if (y === 0) return n * (q < p ? Math.log1p(-q) : Math.log(p))
  const core = stirlingError(n) - stirlingError(x) - stirlingError(y)
  const deviance = devianceTerm(x, n * p) + devianceTerm(y, n * q)
  return core - deviance - 0.5 * Math.log(2 * Math.PI * x * (y / n))
}

/** log of x^a y^b / B(a, b). */
function logPrefix(a: number, b: number, x: number, y: number): number {
  return logBinomialTerm(a, b, x, y) + Math.log(a) + Math.log(b / (a + b))
}

/** Continued fraction of the incomplete beta function, its even part, by modified Lentz. */
function betaFraction(a: number, b: number, x: number, y: number): number {
  let f = ((a * y - b * x + 1) * a) / (a + 1)
  if (f === 0) f = 1e-300
  let c = f
  let d = 0
  for (let m = 1; m < 1e7; m++) {
    const step = a + 2 * m - 1
    const an = (((a + m - 1) * (a + b + m - 1)) / step) * ((m * (b - m)) / step) * x * x
    const bn =
      m + (m * (b - m) * x) / step + ((a + m) * (a * y - b * x + 1 + m * (2 - x))) / (step + 2)
    d = bn + an * d
    if (d === 0) d = 1e-300
    c = bn + an / c
    if (c === 0) c = 1e-300
    d = 1 / d
    const change = c * d
    f *= change
    if (Math.abs(change - 1) < 1e-16) break
  }
  return f
}

/**
 * Regularised incomplete beta function `I_x(a, b)` (lower) and its complement (upper), with logs.
 *
 * @param a Above 0.
 * @param b Above 0.
 * @param x 0 to 1.
 * @param y `1 - x`; passed apart where it is known more exactly than the subtraction gives it.
 * @see DiDonato & Morris (1992), Algorithm 708, ACM Trans Math Softw 18:360, the fraction BFRAC.
 * @example
 * betaTails(1, 1, 0).lower // => 0
 */
export function betaTails(a: number, b: number, x: number, y: number = 1 - x): Tails {
  if (!(a > 0 && b > 0 && x >= 0 && y >= 0)) return NO_TAILS
  if (x === 0) return NOTHING_BELOW
  if (y === 0) return NOTHING_ABOVE
  const isLower = x * (a + b + 2) < a + 1
  const log =
    logPrefix(a, b, x, y) - Math.log(isLower ? betaFraction(a, b, x, y) : betaFraction(b, a, y, x))
  return tailsFromLog(log, isLower)
}

/**
 * Quantile of the beta distribution on the logit scale, so that both ends keep relative accuracy.
 *
 * @param logTail Natural log of the tail probability.
 * @param isLower Whether the tail is P(X <= x).
 * @returns `log(x / (1 - x))`.
 * @example
 * betaLogitQuantile(1, 1, -Infinity, true) // => -Infinity
 */
export function betaLogitQuantile(a: number, b: number, logTail: number, isLower: boolean): number {
  if (!(a > 0 && b > 0 && logTail <= 0)) return NaN
  if (logTail === -Infinity) return isLower ? -Infinity : Infinity
  if (logTail === 0) return isLower ? Infinity : -Infinity
  if (logTail > -Math.LN2) return betaLogitQuantile(a, b, log1mExp(logTail), !isLower)
  const tailAt = (u: number) => {
    const x = 1 / (1 + Math.exp(-u))
    const y = 1 / (1 + Math.exp(u))
    const tails = betaTails(a, b, x, y)
    const value = isLower ? tails.logLower : tails.logUpper
    return { value, slope: Math.exp(logPrefix(a, b, x, y) - value) * (isLower ? 1 : -1) }
  }
  return solveLogTail(tailAt, logTail, Math.log(a / b), isLower ? 1 : -1)
}

/**
 * Quantile of the beta distribution: the x with `P(X <= x) = p`.
 *
 * @param p       Tail probability, 0 to 1.
 * @param isLower `false` where p is the upper tail.
 * @example
 * betaQuantile(1, 1, 0.5) // => 0.5
 */
export function betaQuantile(a: number, b: number, p: number, isLower: boolean = true): number {
  return 1 / (1 + Math.exp(-betaLogitQuantile(a, b, Math.log(p), isLower)))
}
