import type { Interval } from './interval.ts'
import { requireLevel, requireNumber, requireNumbers, requireWork } from './special/check.ts'
import { createRandom } from './special/random.ts'

/** A difference of means judged by re-dealing the values between the groups. */
export interface PermutationDifference extends Interval {
  /** Two-sided: share of deals whose difference is at least as large. */
  readonly p: number
  /** Deals looked at, the observed one included. */
  readonly deals: number
  /** Every possible deal was looked at. */
  readonly exact: boolean
}

/** Up to this many deals all are looked at: 8 against 8 has 12,870, 10 against 10 has 184,756. */
const EXACT_LIMIT = 200_000

/**
 * Difference of two means with a permutation p-value and the interval of shifts it does not reject.
 *
 * All deals of the pooled values are looked at where there are at most 200,000, else `draws` seeded
 * random ones. The interval needs one pass: under a shift Δ each deal's difference is linear in Δ, so
 * each deal has one Δ at which it begins to be at least as extreme as the data, and the limits are
 * order statistics of those.
 *
 * @param first   At least 2 values.
 * @param second  At least 2 values, the comparator.
 * @param options `level`, default 0.95; `draws`, default 20,000, and `seed`, default 1, for random deals.
 * @returns First minus second. Limits are infinite where the groups are too small for the level.
 * @throws AppError `stats.too_few_points`, `stats.too_many_points`, `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Pitman (1937), J R Stat Soc Suppl 4:119; Tritchler (1984), JASA 79:200 for the interval;
 *   Phipson & Smyth (2010), Stat Appl Genet Mol Biol 9:39 for counting the observed deal.
 *
 * @example
 * permutationDifference([4, 5, 6], [1, 2, 3]).p // => 0.1
 */
export function permutationDifference(
  first: readonly number[],
  second: readonly number[],
  options: { readonly level?: number; readonly draws?: number; readonly seed?: number } = {},
): PermutationDifference {
  const { level = 0.95, draws = 20_000, seed = 1 } = options
  requireLevel(level)
  requireNumbers('The first group', first, 'finite', 2)
  requireNumbers('The second group', second, 'finite', 2)
  requireNumber('The number of draws', draws, 'a whole count')
  requireNumber('The number of draws', draws, 'positive')
  requireNumber('The seed', seed, 'a seed')
  requireWork(
    draws * (first.length + second.length),
    'Ask for fewer draws; with so many values Welch’s difference of means answers the same.',
  )
  const n1 = first.length
  const n2 = second.length
  const n = n1 + n2
  const pooled = Float64Array.from([...first, ...second])
  // Taking the pooled mean off first keeps the sums small; differences do not change.
  let mean = 0
  for (const x of pooled) mean += x / n
  let scale = 0
  for (let i = 0; i < n; i++) {
    pooled[i] = pooled[i]! - mean
    scale = Math.max(scale, Math.abs(pooled[i]!))
  }
  let sumFirst = 0
  let total = 0
  for (let i = 0; i < n; i++) {
    total += pooled[i]!
    if (i < n1) sumFirst += pooled[i]!
  }
  const observed = sumFirst / n1 - (total - sumFirst) / n2

  const exact = numberOfDeals(n, n1) <= EXACT_LIMIT
  const thresholds: number[] = []
  // Ties count as extreme; sums of the same values in another order may differ in the last digits.
  const slack = 1e-12 * scale * n
  let atLeast = exact ? 0 : 1
  const look = (sum: number, fromFirst: number) => {
    const difference = sum / n1 - (total - sum) / n2
    if (Math.abs(difference) >= Math.abs(observed) - slack) atLeast++
    const slope = fromFirst / n1 - (n1 - fromFirst) / n2
    if (fromFirst < n1) thresholds.push((observed - difference) / (1 - slope))
  }
  if (exact) everyDeal(pooled, n1, look)
  else randomDeals(pooled, n1, draws, seed, look)
  const deals = exact ? thresholds.length + 1 : draws + 1

  // Deals that hold exactly the first group are extreme at every shift: the observed one, and chance repeats.
  const always = deals - thresholds.length
  const skip = Math.floor((deals * (1 - level)) / 2 + 1e-9) - always
  const ordered = Float64Array.from(thresholds).sort()
  return {
    estimate: observed,
    lower: skip < 0 ? -Infinity : ordered[skip]!,
    upper: skip < 0 ? Infinity : ordered[ordered.length - 1 - skip]!,
    level,
    p: atLeast / deals,
    deals,
    exact,
  }
}

function numberOfDeals(n: number, k: number): number {
  let deals = 1
  for (let i = 1; i <= k && deals <= EXACT_LIMIT * n; i++) deals *= (n - k + i) / i
  return Math.round(deals)
}

type Look = (sum: number, fromFirst: number) => void

/** Every choice of k positions, in lexicographic order. */
function everyDeal(pooled: Float64Array, k: number, look: Look): void {
  const n = pooled.length
  const chosen = Array.from({ length: k }, (_, i) => i)
  for (;;) {
    let sum = 0
    let fromFirst = 0
    for (const i of chosen) {
      sum += pooled[i]!
      if (i < k) fromFirst++
    }
    look(sum, fromFirst)
    let at = k - 1
    while (at >= 0 && chosen[at] === n - k + at) at--
    if (at < 0) return
    chosen[at] = chosen[at]! + 1
    for (let j = at + 1; j < k; j++) chosen[j] = chosen[j - 1]! + 1
  }
}

function randomDeals(
  pooled: Float64Array,
  k: number,
  draws: number,
  seed: number,
  look: Look,
): void {
  const n = pooled.length
  const random = createRandom(seed)
  const order = Int32Array.from({ length: n }, (_, i) => i)
  for (let draw = 0; draw < draws; draw++) {
    let sum = 0
    let fromFirst = 0
    for (let i = 0; i < k; i++) {
      const j = i + random.integer(n - i)
      const item = order[j]!
      order[j] = order[i]!
      order[i] = item
      sum += pooled[item]!
      if (item < k) fromFirst++
    }
    look(sum, fromFirst)
  }
}
