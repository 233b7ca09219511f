import { betaTails, logBinomialTerm } from './beta.ts'
import { normalQuantile } from './normal.ts'
import { NO_TAILS, NOTHING_ABOVE, NOTHING_BELOW, type Tails } from './numeric.ts'
import { smallestReaching } from './quantile-search.ts'

const valid = (n: number, p: number) => Number.isInteger(n) && n >= 0 && p >= 0 && p <= 1

/**
 * Log of the binomial probability of k successes in n trials.
 *
 * @example
 * binomialLogPmf(0, 0, 0.5) // => 0
 */
export function binomialLogPmf(k: number, n: number, p: number): number {
  if (!valid(n, p)) return NaN
  return Number.isInteger(k) && k >= 0 && k <= n ? logBinomialTerm(k, n - k, p, 1 - p) : -Infinity
}

/**
 * Binomial probability of k successes in n trials.
 *
 * @example
 * binomialPmf(0, 3, 0) // => 1
 */
export function binomialPmf(k: number, n: number, p: number): number {
  return Math.exp(binomialLogPmf(k, n, p))
}

/**
 * Binomial tails: `lower` is P(X <= k), `upper` is P(X > k), with logs.
 *
 * @param k Any real number; floored.
 * @param n Trials, a whole number.
 * @param p Chance of success, 0 to 1.
 * @example
 * binomialTails(3, 3, 0.5).lower // => 1
 */
export function binomialTails(k: number, n: number, p: number): Tails {
  if (!valid(n, p) || Number.isNaN(k)) return NO_TAILS
  const x = Math.floor(k)
  if (x < 0) return NOTHING_BELOW
  if (x >= n) return NOTHING_ABOVE
  const { lower, upper, logLower, logUpper } = betaTails(x + 1, n - x, p)
  return { lower: upper, upper: lower, logLower: logUpper, logUpper: logLower }
}

/**
 * Binomial distribution function, P(X <= k).
 *
 * @example
 * binomialCdf(-1, 3, 0.5) // => 0
 */
export function binomialCdf(k: number, n: number, p: number): number {
  return binomialTails(k, n, p).lower
}

/**
 * Smallest k with P(X <= k) at least `probability`.
 *
 * @example
 * binomialQuantile(0.5, 2, 0.5) // => 1
 */
export function binomialQuantile(probability: number, n: number, p: number): number {
  if (!valid(n, p) || !(probability >= 0 && probability <= 1)) return NaN
  if (probability === 0) return 0
  if (probability === 1) return p === 0 ? 0 : n
  const guess = n * p + normalQuantile(probability) * Math.sqrt(n * p * (1 - p))
  return smallestReaching((k) => binomialCdf(k, n, p), probability, guess, 0, n)
}
