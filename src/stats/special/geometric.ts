import { NO_TAILS, NOTHING_BELOW, type Tails, tailsFromLog } from './numeric.ts'

/**
 * Log of the geometric probability of k failures before the first success.
 *
 * @example
 * geometricLogPmf(0, 1) // => 0
 */
export function geometricLogPmf(k: number, p: number): number {
  if (!(p > 0 && p <= 1)) return NaN
  if (!(Number.isInteger(k) && k >= 0)) return -Infinity
  return Math.log(p) + (k === 0 ? 0 : k * Math.log1p(-p))
}

/**
 * Geometric tails: `lower` is P(X <= k), `upper` is P(X > k) = (1 - p)^(k + 1), with logs.
 *
 * @example
 * geometricTails(0, 0.5).upper // => 0.5
 */
export function geometricTails(k: number, p: number): Tails {
  if (!(p > 0 && p <= 1) || Number.isNaN(k)) return NO_TAILS
  const x = Math.floor(k)
  return x < 0 ? NOTHING_BELOW : tailsFromLog((x + 1) * Math.log1p(-p), false)
}

/**
 * Smallest k with P(X <= k) at least `probability`.
 *
 * @example
 * geometricQuantile(0.5, 0.5) // => 0
 */
export function geometricQuantile(probability: number, p: number): number {
  if (!(p > 0 && p <= 1 && probability >= 0 && probability <= 1)) return NaN
  if (probability === 0 || p === 1) return 0
  if (probability === 1) return Infinity
  const reaches = (k: number) =>
    geometricTails(k, p).lower >= probability * (1 - 64 * Number.EPSILON)
  let k = Math.max(0, Math.ceil(Math.log1p(-probability) / Math.log1p(-p) - 1))
  // Counts so large are not told apart from the next.
  if (k > 2 ** 50) return k
  // The closed form is a rounding error from the next count either way.
  while (k > 0 && reaches(k - 1)) k--
  while (!reaches(k)) k++
  return k
}
