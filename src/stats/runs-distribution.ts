import { AppError } from '../errors.ts'
import { requireNumber } from './special/check.ts'

/** Numbers of runs that chance alone seldom goes outside of. */
export interface RunsLimits {
  /** Fewest runs still expected: fewer is a signal. */
  readonly fewest: number
  /** Most runs still expected: more is a signal. */
  readonly most: number
}

/** Limits already worked out, by above, below and tail: a simulation asks for the same few. */
const limitsKept = new Map<string, RunsLimits>()

/** More points than these do not fit into a table. */
const MOST_POINTS = 10_000_000

/**
 * The exact distribution of the number of runs when `above` points on one side and `below` on the
 * other come in random order.
 *
 * P(R = 2k) = 2 C(a−1,k−1) C(b−1,k−1) / C(a+b,a);
 * P(R = 2k+1) = [C(a−1,k) C(b−1,k−1) + C(a−1,k−1) C(b−1,k)] / C(a+b,a).
 * Condition: the numbers on each side are taken as given, and all orders as equally likely, which
 * holds for independent points from one distribution with the centre at the sample median.
 *
 * @param above Points above the centre line, a whole number >= 1 (points on the line left out).
 * @param below Points below it, a whole number >= 1.
 * @returns Probabilities p[r] of exactly r runs, for r = 0 to 2·min(above, below) + 1.
 * @throws AppError `stats.out_of_range`.
 * @see Swed & Eisenhart 1943, Ann Math Stat 14:66.
 *
 * @example
 * runsDistribution(1, 1) // => [0, 0, 1, 0]
 */
export function runsDistribution(above: number, below: number): number[] {
  const whole = Number.isInteger(above) && Number.isInteger(below)
  if (!whole || above < 1 || below < 1 || above + below > MOST_POINTS) {
    throw new AppError(
      'stats.out_of_range',
      `The distribution of runs needs at least 1 point on each side, got ${above} above and ${below} below.`,
      'Count the points above and below the centre line, leaving out those on it.',
      { above, below },
    )
  }
  // q[k] is C(a−1,k−1)·C(b−1,k−1) up to a factor, by ratios outward from its largest value, so
  // that nothing overflows; every probability is then a multiple of a q, and they sum to 1.
  const small = Math.min(above, below)
  const a = above - 1
  const b = below - 1
  const q = new Float64Array(small + 2)
  const mode = Math.max(1, Math.min(small, Math.round(((a + 1) * (b + 1)) / (a + b + 2)) + 1))
  q[mode] = 1
  for (let k = mode; k < small; k++) q[k + 1] = (q[k]! * (a - k + 1) * (b - k + 1)) / (k * k)
  for (let k = mode; k > 1; k--)
    q[k - 1] = (q[k]! * (k - 1) * (k - 1)) / ((a - k + 2) * (b - k + 2))
  const p = new Array<number>(2 * small + 2).fill(0)
  let sum = 0
  for (let k = 1; k <= small; k++) {
    p[2 * k] = 2 * q[k]!
    p[2 * k + 1] = (q[k]! * (a - k + 1)) / k + (q[k]! * (b - k + 1)) / k
    sum += p[2 * k]! + p[2 * k + 1]!
  }
  return p.map((x) => x / sum)
}

/**
 * The fewest and the most runs that chance alone is expected to give: outside them lies at most
 * `tail` of the exact distribution on each side.
 *
 * Printed tables differ from these by one at some n, because they were worked out for other
 * splits or other tail areas; these follow the numbers above and below, exactly.
 *
 * @param above Points above the centre line, a whole number >= 1.
 * @param below Points below it, a whole number >= 1.
 * @param tail  Probability allowed on each side, 0 < tail < 0.5. Default 0.025.
 * @returns `fewest` and `most`; fewer or more runs than these are signals. `most` may be a number
 *   of runs that cannot be exceeded; then too many runs cannot signal.
 * @throws AppError `stats.out_of_range`.
 * @see Swed & Eisenhart 1943, Ann Math Stat 14:66.
 *
 * @example
 * runsLimits(10, 10) // => { fewest: 7, most: 15 }
 */
export function runsLimits(above: number, below: number, tail = 0.025): RunsLimits {
  const key = `${above} ${below} ${tail}`
  const known = limitsKept.get(key)
  if (known !== undefined) return known
  if (!(tail > 0 && tail < 0.5)) {
    throw new AppError(
      'stats.out_of_range',
      `The tail area ${tail} is not between 0 and 0.5.`,
      'Use 0.025 for the usual 5 % in all.',
      { tail },
    )
  }
  const p = runsDistribution(above, below)
  // A hair of slack, so that a tail that is exactly the allowed area is not lost to rounding.
  const allowed = tail * (1 + 1e-12)
  let fewest = 0
  for (let sum = p[0]!; sum <= allowed; ) sum += p[++fewest]!
  let most = p.length - 1
  for (let sum = p[most]!; sum <= allowed; ) sum += p[--most]!
  const limits = { fewest, most }
  if (limitsKept.size > 500) limitsKept.clear()
  limitsKept.set(key, limits)
  return limits
}

/**
 * The longest run that the length-adjusted rule allows: round(log2 n) + 3.
 *
 * @param useful Points not on the centre line, >= 1.
 * @returns A whole number; a longer run is a signal.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 * @see Anhøj & Olesen 2014, PLoS ONE 9:e113825.
 *
 * @example
 * longestRunLimit(24) // => 8
 */
export function longestRunLimit(useful: number): number {
  requireUseful(useful)
  return Math.round(Math.log2(useful)) + 3
}

/**
 * The fewest crossings that the length-adjusted rule allows: the 5 % quantile of
 * Binomial(n − 1, ½).
 *
 * @param useful Points not on the centre line, a whole number >= 1.
 * @returns A whole number; fewer crossings are a signal.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 * @see Anhøj & Olesen 2014, PLoS ONE 9:e113825.
 *
 * @example
 * crossingsLimit(24) // => 8
 */
export function crossingsLimit(useful: number): number {
  requireUseful(useful)
  const n = useful - 1
  if (n < 1) return 0
  // Probabilities relative to the middle one, walked down until they no longer count.
  const middle = Math.floor(n / 2)
  const lower: number[] = []
  for (let k = middle, mass = 1; k >= 0 && mass > 1e-25; k--) {
    lower.push(mass)
    mass *= k / (n - k + 1)
  }
  let total = 0
  for (let i = lower.length - 1; i >= 0; i--) total += lower[i]!
  // By symmetry both halves weigh the same; with an even n the middle term is in both.
  const whole = n % 2 === 0 ? 2 * total - 1 : 2 * total
  let sum = 0
  for (let i = lower.length - 1; i >= 0; i--) {
    sum += lower[i]!
    if (sum >= 0.05 * whole * (1 - 1e-12)) return middle - i
  }
  return middle
}

function requireUseful(useful: number): void {
  requireNumber('The number of useful points', useful, 'a whole count')
}
