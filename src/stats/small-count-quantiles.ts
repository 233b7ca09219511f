import { AppError } from '../errors.ts'

/** Tail areas of a normal distribution outside 3 sigma on one side, as Benneyan (2001) uses them. */
export const LOWER_TAIL = 0.00135
export const UPPER_TAIL = 0.99865

/**
 * Quantile of a binomial distribution with a small expected count: the smallest x with
 * P(X <= x) >= `level`.
 *
 * Sums the probabilities upward from zero, which is exact and quick where n·p is small; it is the
 * distribution behind a P chart's exact limits.
 *
 * @param level Cumulative probability, 0 < level < 1.
 * @param n     Items inspected, a whole number >= 0.
 * @param p     Chance that one item is classified, 0–1.
 * @returns A whole number from 0 to n.
 * @throws AppError `stats.out_of_range`.
 * @see Hogg & Tanis, any edition: binomial probabilities by the ratio P(x+1)/P(x).
 *
 * @example
 * smallBinomialQuantile(0.99865, 20, 0.1) // => 7
 */
export function smallBinomialQuantile(level: number, n: number, p: number): number {
  checkLevel(level)
  if (!(n >= 0) || !(p >= 0 && p <= 1)) throw outOfRange('n and p', `n = ${n}, p = ${p}`)
  if (p === 0 || n === 0) return 0
  if (p === 1) return n
  const odds = p / (1 - p)
  let mass = Math.exp(n * Math.log1p(-p))
  // Where (1 − p)^n underflows the count is not small: walk down from n by symmetry instead.
  if (mass === 0) return n - complementQuantile(level, n, 1 - p)
  let sum = mass
  let x = 0
  while (sum < level && x < n) {
    mass *= (odds * (n - x)) / (x + 1)
    x++
    sum += mass
  }
  return x
}

/** Largest y with P(Y < y) <= 1 - level, for Y = n - X; the mirror of the quantile of X. */
function complementQuantile(level: number, n: number, q: number): number {
  const odds = q / (1 - q)
  let mass = Math.exp(n * Math.log1p(-q))
  if (mass === 0) throw outOfRange('n and p', `n = ${n}, p = ${1 - q}: the count is not small`)
  let below = 0
  let y = 0
  while (y < n && below + mass <= 1 - level) {
    below += mass
    mass *= (odds * (n - y)) / (y + 1)
    y++
  }
  return y
}

/**
 * Quantile of a Poisson distribution with a small mean: the smallest x with P(X <= x) >= `level`.
 *
 * @param level Cumulative probability, 0 < level < 1.
 * @param mean  Expected count, 0 to 700.
 * @returns A whole number >= 0.
 * @throws AppError `stats.out_of_range`.
 * @see Poisson probabilities by the ratio P(x+1)/P(x) = mean/(x+1).
 *
 * @example
 * smallPoissonQuantile(0.99865, 2) // => 7
 */
export function smallPoissonQuantile(level: number, mean: number): number {
  checkLevel(level)
  if (!(mean >= 0 && mean <= 700)) throw outOfRange('mean', String(mean))
  let mass = Math.exp(-mean)
  let sum = mass
  let x = 0
  // The second condition ends the sum where rounding keeps it just short of the level.
  while (sum < level && (x < mean || mass > 1e-300)) {
    x++
    mass *= mean / x
    sum += mass
  }
  return x
}

function checkLevel(level: number): void {
  if (!(level > 0 && level < 1)) throw outOfRange('level', String(level))
}

function outOfRange(what: string, value: string): AppError {
  return new AppError(
    'stats.out_of_range',
    `The ${what} of a small-count quantile is out of range: ${value}.`,
    'Use a level between 0 and 1, a proportion from 0 to 1, and a count that is small.',
    { what, value },
  )
}
