import { logBinomialTerm } from './beta.ts'
import { NO_TAILS, NOTHING_ABOVE, NOTHING_BELOW, type Tails, tailsFromLog } from './numeric.ts'
import { smallestReaching } from './quantile-search.ts'

const whole = (...counts: number[]) => counts.every((c) => Number.isInteger(c) && c >= 0)

/**
 * Log of the hypergeometric probability of k marked items among `drawn`, from `marked` and `unmarked`.
 *
 * @see Loader (2000), as a product of three binomial terms.
 * @example
 * hypergeometricLogPmf(0, 0, 5, 2) // => 0
 */
export function hypergeometricLogPmf(
  k: number,
  marked: number,
  unmarked: number,
  drawn: number,
): number {
  const total = marked + unmarked
  if (!whole(marked, unmarked, drawn) || drawn > total) return NaN
  if (!Number.isInteger(k) || k < 0 || k > marked || drawn - k < 0 || drawn - k > unmarked)
    return -Infinity
  if (drawn === 0 || drawn === total || marked === 0 || unmarked === 0) return 0
  const p = drawn / total
  const q = (total - drawn) / total
  return (
    logBinomialTerm(k, marked - k, p, q) +
    logBinomialTerm(drawn - k, unmarked - drawn + k, p, q) -
    logBinomialTerm(drawn, total - drawn, p, q)
  )
}

/**
 * Hypergeometric tails: `lower` is P(X <= k), `upper` is P(X > k), with logs.
 *
 * The smaller tail is summed outwards from its largest term until further terms cannot matter.
 *
 * @example
 * hypergeometricTails(2, 2, 5, 2).upper // => 0
 */
export function hypergeometricTails(
  k: number,
  marked: number,
  unmarked: number,
  drawn: number,
): Tails {
  const total = marked + unmarked
  if (!whole(marked, unmarked, drawn) || drawn > total || Number.isNaN(k)) return NO_TAILS
  const x = Math.floor(k)
  const low = Math.max(0, drawn - unmarked)
  const high = Math.min(marked, drawn)
  if (x < low) return NOTHING_BELOW
  if (x >= high) return NOTHING_ABOVE
  const isLower = x < (drawn * marked) / total
  let sum = 1
  let term = 1
  let i = isLower ? x : x + 1
  const first = hypergeometricLogPmf(i, marked, unmarked, drawn)
  while (isLower ? i > low : i < high) {
    term *= isLower
      ? (i * (unmarked - drawn + i)) / ((marked - i + 1) * (drawn - i + 1))
      : ((marked - i) * (drawn - i)) / ((i + 1) * (unmarked - drawn + i + 1))
    i += isLower ? -1 : 1
    sum += term
    if (term < sum * 1e-18) break
  }
  return tailsFromLog(first + Math.log(sum), isLower)
}

/**
 * Smallest k with P(X <= k) at least `probability`.
 *
 * @example
 * hypergeometricQuantile(0.5, 0, 5, 2) // => 0
 */
export function hypergeometricQuantile(
  probability: number,
  marked: number,
  unmarked: number,
  drawn: number,
): number {
  const total = marked + unmarked
  if (!whole(marked, unmarked, drawn) || drawn > total || !(probability >= 0 && probability <= 1))
    return NaN
  const low = Math.max(0, drawn - unmarked)
  const high = Math.min(marked, drawn)
  if (probability === 0) return low
  const guess = total === 0 ? 0 : (drawn * marked) / total
  const cdf = (k: number) => hypergeometricTails(k, marked, unmarked, drawn).lower
  return smallestReaching(cdf, probability, guess, low, high)
}
