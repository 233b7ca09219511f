import { devianceTerm, stirlingError } from './log-gamma.ts'
import { normalQuantile } from './normal.ts'
import {
  log1mExp,
  NO_TAILS,
  NOTHING_ABOVE,
  NOTHING_BELOW,
  type Tails,
  tailsFromLog,
} from './numeric.ts'

/**
 * Log of the Poisson probability for real counts: `log(mean^x exp(-mean) / gamma(x + 1))`.
 *
 * @param x    At least 0, not necessarily whole.
 * @param mean At least 0.
 * @see Loader (2000), Fast and accurate computation of binomial probabilities.
 * @example
 * logPoissonTerm(0, 2) // => -2
 */
export function logPoissonTerm(x: number, mean: number): number {
  if (mean === 0) return x === 0 ? 0 : -Infinity
  if (x === 0) return -mean
  if (x < 1e-12 * mean) return -mean + x * Math.log(mean)
  return -stirlingError(x) - devianceTerm(x, mean) - 0.5 * Math.log(2 * Math.PI * x)
}

/**
 * Regularised incomplete gamma functions `P(a, x)` (lower) and `Q(a, x)` (upper), with their logs.
 *
 * Power series below the mean, continued fraction above it; the prefix is a Poisson term, so that
 * neither large arguments nor far tails lose accuracy.
 *
 * @param a Shape, above 0.
 * @param x At least 0.
 * @see Abramowitz & Stegun (1964), 6.5.29 and 6.5.31; Loader (2000) for the prefix.
 * @example
 * gammaTails(1, 0).upper // => 1
 */
export function gammaTails(a: number, x: number): Tails {
  if (!(a > 0 && x >= 0)) return NO_TAILS
  if (x === 0) return NOTHING_BELOW
  if (x === Infinity) return NOTHING_ABOVE
  const logTerm = logPoissonTerm(a, x)
  if (x < a + 1) {
    let sum = 1
    let term = 1
    for (let k = 1; term > sum * 1e-17; k++) {
      term *= x / (a + k)
      sum += term
    }
    return tailsFromLog(logTerm + Math.log(sum), true)
  }
  // Modified Lentz on the even part of the continued fraction.
  let b = x + 1 - a
  let c = 1e300
  let d = 1 / b
  let h = d
  for (let i = 1; i < 1e7; i++) {
    const an = i * (a - i)
    b += 2
    d = 1 / (an * d + b)
    c = b + an / c
    const step = c * d
    h *= step
    if (Math.abs(step - 1) < 1e-16) break
  }
  return tailsFromLog(logTerm + Math.log(a) + Math.log(h), false)
}

/**
 * Quantile of the standard gamma distribution: the x with `P(a, x)` equal to the given tail.
 *
 * Bracketed Newton steps on the log of the tail against log x, where the curve is smooth and concave.
 *
 * @param logTail Natural log of the tail probability.
 * @param isLower Whether the tail is P(X <= x); else it is P(X > x).
 * @example
 * gammaQuantile(1, -0.5, false) // => 0.5
 */
export function gammaQuantile(a: number, logTail: number, isLower: boolean): number {
  if (!(a > 0 && logTail <= 0)) return NaN
  if (logTail === -Infinity) return isLower ? 0 : Infinity
  if (logTail === 0) return isLower ? Infinity : 0
  if (logTail > -Math.LN2) return gammaQuantile(a, log1mExp(logTail), !isLower)
  // Wilson–Hilferty start; the small-argument form where that fails.
  const z = isLower ? normalQuantile(Math.exp(logTail)) : -normalQuantile(Math.exp(logTail))
  const cube = 1 - 1 / (9 * a) + z / (3 * Math.sqrt(a))
  let start = Math.log(a) + 3 * Math.log(Math.max(cube, 1e-3))
  if (!Number.isFinite(start) || (isLower && cube < 0.1)) {
    start = (logTail + stirlingError(a) + (a + 0.5) * Math.log(a) - a + 0.9189385332046727) / a
  } else if (!Number.isFinite(z)) start = Math.log(a - logTail)
  const tailAt = (u: number) => {
    const x = Math.exp(u)
    const tails = gammaTails(a, x)
    const value = isLower ? tails.logLower : tails.logUpper
    return {
      value,
      slope: Math.exp(logPoissonTerm(a, x) + Math.log(a) - value) * (isLower ? 1 : -1),
    }
  }
  return Math.exp(solveLogTail(tailAt, logTail, start, isLower ? 1 : -1))
}

/**
 * Solves `log tail(u) = target` for a monotone tail by Newton steps kept inside a bracket.
 *
 * @param direction 1 where the tail rises with u, -1 where it falls.
 * @example
 * solveLogTail((u) => ({ value: u, slope: 1 }), -3, 0, 1) // => -3
 */
export function solveLogTail(
  tailAt: (u: number) => { readonly value: number; readonly slope: number },
  target: number,
  start: number,
  direction: 1 | -1,
): number {
  let low = -Infinity
  let high = Infinity
  let u = start
  for (let i = 0; i < 200; i++) {
    const { value, slope } = tailAt(u)
    const miss = value - target
    if (miss === 0) return u
    if (miss * direction > 0) high = u
    else low = u
    let next = u - miss / slope
    if (!(next > low && next < high)) {
      const width = 2 ** Math.min(i, 9)
      if (low === -Infinity) next = high - width
      else if (high === Infinity) next = low + width
      else next = low + (high - low) / 2
    }
    if (next < -1e4 || next > 1e4) return next
    if (Math.abs(next - u) <= 2e-16 * Math.max(1, Math.abs(next)) || next === low || next === high)
      return next
    u = next
  }
  return u
}
