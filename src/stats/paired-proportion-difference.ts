import type { Interval } from './interval.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { wilsonInterval } from './wilson-interval.ts'

/** Pairs by what was seen the first and the second time. */
export interface PairedCounts {
  readonly both: number
  readonly firstOnly: number
  readonly secondOnly: number
  readonly neither: number
}

/**
 * Difference of two proportions seen on the same items, with Newcombe's paired score interval.
 *
 * Wilson limits of the two margins are combined as for independent groups, less twice their product
 * times the correlation of the pairs (continuity corrected where positive).
 *
 * @param counts Whole numbers of pairs, at least one pair in all.
 * @param level  Two-sided confidence; default 0.95.
 * @returns First minus second, −1 to 1.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Newcombe (1998), Stat Med 17:2635, method 10.
 *
 * @example
 * pairedProportionDifference({ both: 0, firstOnly: 0, secondOnly: 0, neither: 9 }).estimate // => 0
 */
export function pairedProportionDifference(counts: PairedCounts, level = 0.95): Interval {
  const { both, firstOnly, secondOnly, neither } = counts
  for (const [name, count] of Object.entries(counts)) {
    requireNumber(`The count of pairs "${name}"`, count, 'a whole count')
  }
  const n = both + firstOnly + secondOnly + neither
  requireNumber('The number of pairs', n, 'positive')
  requireLevel(level)
  const first = wilsonInterval(both + firstOnly, n, level)
  const second = wilsonInterval(both + secondOnly, n, level)
  const margins =
    (both + firstOnly) * (secondOnly + neither) * (both + secondOnly) * (firstOnly + neither)
  const cross = both * neither - firstOnly * secondOnly
  const corrected = cross > n / 2 ? cross - n / 2 : Math.min(cross, 0)
  const phi = margins === 0 ? 0 : corrected / Math.sqrt(margins)
  const combine = (a: number, b: number) => Math.sqrt(Math.max(0, a * a - 2 * phi * a * b + b * b))
  const difference = (firstOnly - secondOnly) / n
  return {
    estimate: difference,
    lower: difference - combine(first.estimate - first.lower, second.upper - second.estimate),
    upper: difference + combine(first.upper - first.estimate, second.estimate - second.lower),
    level,
  }
}
