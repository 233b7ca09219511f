import { instantOf } from './format.ts'

/** Months differ by 3 days in 31. */
const EVEN = 0.15
/** A step this much longer than the others has a period in it that has no row. */
const TOO_LONG = 1.6

/**
 * Where a regular series has a period without a row: true at the point after the gap.
 *
 * Regular is a series of dates whose steps are nearly all alike (nine of ten within 15 % of the
 * median step); in any other, a long step says nothing.
 *
 * @param at Labels in time order.
 * @returns One a label.
 *
 * @example
 * afterMissingPeriod(['2026-01-05', '2026-01-12', '2026-01-19', '2026-02-02', '2026-02-09', '2026-02-16', '2026-02-23', '2026-03-02', '2026-03-09', '2026-03-16', '2026-03-23']).indexOf(true) // => 3
 */
export function afterMissingPeriod(at: readonly string[]): boolean[] {
  const times = at.map(instantOf)
  const steps = times.slice(1).map((time, i) => (time ?? Number.NaN) - (times[i] ?? Number.NaN))
  const none = at.map(() => false)
  if (steps.length < 4 || steps.some(Number.isNaN)) return none
  const median = steps.toSorted((a, b) => a - b)[steps.length >> 1]!
  const alike = steps.filter((step) => Math.abs(step - median) <= EVEN * median)
  if (alike.length < 0.9 * steps.length) return none
  return at.map((_, i) => i > 0 && steps[i - 1]! > TOO_LONG * median)
}
