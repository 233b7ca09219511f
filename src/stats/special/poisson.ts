import { gammaTails, logPoissonTerm } from './gamma.ts'
import { normalQuantile } from './normal.ts'
import { NO_TAILS, NOTHING_BELOW, type Tails } from './numeric.ts'
import { smallestReaching } from './quantile-search.ts'

/**
 * Log of the Poisson probability of the count k.
 *
 * @example
 * poissonLogPmf(0, 2) // => -2
 */
export function poissonLogPmf(k: number, mean: number): number {
  if (!(mean >= 0)) return NaN
  return Number.isInteger(k) && k >= 0 ? logPoissonTerm(k, mean) : -Infinity
}

/**
 * Poisson probability of the count k.
 *
 * @example
 * poissonPmf(0, 0) // => 1
 */
export function poissonPmf(k: number, mean: number): number {
  return Math.exp(poissonLogPmf(k, mean))
}

/**
 * Poisson tails: `lower` is P(X <= k), `upper` is P(X > k), with logs.
 *
 * @param k    Any real number; floored.
 * @param mean At least 0.
 * @example
 * poissonTails(0, 0).lower // => 1
 */
export function poissonTails(k: number, mean: number): Tails {
  if (!(mean >= 0) || Number.isNaN(k)) return NO_TAILS
  const x = Math.floor(k)
  if (x < 0) return NOTHING_BELOW
  const { lower, upper, logLower, logUpper } = gammaTails(x + 1, mean)
  return { lower: upper, upper: lower, logLower: logUpper, logUpper: logLower }
}

/**
 * Poisson distribution function, P(X <= k).
 *
 * @example
 * poissonCdf(-1, 2) // => 0
 */
export function poissonCdf(k: number, mean: number): number {
  return poissonTails(k, mean).lower
}

/**
 * Smallest k with P(X <= k) at least `probability`.
 *
 * @example
 * poissonQuantile(0.5, 0) // => 0
 */
export function poissonQuantile(probability: number, mean: number): number {
  if (!(mean >= 0 && probability >= 0 && probability <= 1)) return NaN
  if (probability === 0 || mean === 0) return 0
  if (probability === 1) return Infinity
  const guess = mean + normalQuantile(probability) * Math.sqrt(mean)
  return smallestReaching((k) => poissonCdf(k, mean), probability, guess, 0, Infinity)
}
