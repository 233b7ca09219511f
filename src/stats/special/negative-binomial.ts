import { betaTails, logBinomialTerm } from './beta.ts'
import { normalQuantile } from './normal.ts'
import { NO_TAILS, NOTHING_BELOW, type Tails } from './numeric.ts'
import { smallestReaching } from './quantile-search.ts'

const valid = (size: number, p: number) => size > 0 && p > 0 && p <= 1

/**
 * Log of the negative binomial probability of k failures before the `size`-th success.
 *
 * @param size Above 0, not necessarily whole.
 * @param p    Chance of success, above 0 and at most 1.
 * @example
 * negativeBinomialLogPmf(0, 1, 1) // => 0
 */
export function negativeBinomialLogPmf(k: number, size: number, p: number): number {
  if (!valid(size, p)) return NaN
  if (!(Number.isInteger(k) && k >= 0)) return -Infinity
  return Math.log(size / (size + k)) + logBinomialTerm(size, k, p, 1 - p)
}

/**
 * Negative binomial tails: `lower` is P(X <= k), `upper` is P(X > k), with logs.
 *
 * @example
 * negativeBinomialTails(-1, 2, 0.5).lower // => 0
 */
export function negativeBinomialTails(k: number, size: number, p: number): Tails {
  if (!valid(size, p) || Number.isNaN(k)) return NO_TAILS
  const x = Math.floor(k)
  return x < 0 ? NOTHING_BELOW : betaTails(size, x + 1, p)
}

/**
 * Smallest k with P(X <= k) at least `probability`.
 *
 * @example
 * negativeBinomialQuantile(0, 2, 0.5) // => 0
 */
export function negativeBinomialQuantile(probability: number, size: number, p: number): number {
  if (!valid(size, p) || !(probability >= 0 && probability <= 1)) return NaN
  if (probability === 0 || p === 1) return 0
  if (probability === 1) return Infinity
  const mean = (size * (1 - p)) / p
  const guess = mean + normalQuantile(probability) * Math.sqrt(mean / p)
  return smallestReaching(
    (k) => negativeBinomialTails(k, size, p).lower,
    probability,
    guess,
    0,
    Infinity,
  )
}
