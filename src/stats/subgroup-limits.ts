import { chartConstants, meanDeviationFactor } from './chart-constants.ts'
import { requireSpan } from './special/check.ts'

/** Sizes, means and spreads of subgroups, one a point; NaN where there is none. */
export interface Subgroups {
  readonly sizes: Float64Array
  readonly means: Float64Array
  /** Sample standard deviations; NaN below 2 measurements. */
  readonly deviations: Float64Array
  /** Ranges; NaN below 2 measurements. */
  readonly ranges: Float64Array
}

/**
 * Size, mean, standard deviation and range of each subgroup.
 *
 * @param groups Measurements, one list a point; `null` or empty at a gap.
 * @returns Four columns of the same length.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.1.
 *
 * @example
 * subgroupColumns([[1, 3]]).ranges[0] // => 2
 */
export function subgroupColumns(groups: readonly (readonly number[] | null)[]): Subgroups {
  const column = () => new Float64Array(groups.length).fill(Number.NaN)
  const [sizes, means, deviations, ranges] = [column(), column(), column(), column()]
  for (const [i, group] of groups.entries()) {
    if (group === null || group.length === 0) continue
    let sum = 0
    let low = Number.POSITIVE_INFINITY
    let high = Number.NEGATIVE_INFINITY
    for (const x of group) {
      sum += x
      low = Math.min(low, x)
      high = Math.max(high, x)
    }
    const mean = sum / group.length
    sizes[i] = group.length
    means[i] = mean
    if (group.length < 2) continue
    let squares = 0
    for (const x of group) squares += (x - mean) ** 2
    deviations[i] = Math.sqrt(squares / (group.length - 1))
    ranges[i] = high - low
  }
  return { sizes, means, deviations, ranges }
}

/** Centre and sigma of subgrouped measurements. */
export interface SubgroupFit {
  /** Mean of all measurements. */
  readonly center: number
  /** Sigma of one measurement; NaN where no subgroup has two. */
  readonly sigma: number
}

/**
 * Mean of all measurements, and sigma as the mean of s/c4(n) (or of R/d2(n)) over the subgroups of
 * two or more. With equal sizes this is the usual s̄/c4 (or R̄/d2).
 *
 * @param groups Columns of `subgroupColumns`.
 * @param counts 1 where a point counts.
 * @param start  First position.
 * @param end    One past the last.
 * @param spread `s` or `r`.
 * @returns Centre and sigma; NaN where nothing counts.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.1; ISO 7870-2.
 *
 * @example
 * subgroupFit(subgroupColumns([[1, 3], [2, 4]]), Uint8Array.of(1, 1), 0, 2, 'r').center // => 2.5
 */
export function subgroupFit(
  groups: Subgroups,
  counts: Uint8Array,
  start: number,
  end: number,
  spread: 's' | 'r',
): SubgroupFit {
  requireSpan(counts.length, start, end)
  let total = 0
  let size = 0
  let sum = 0
  let used = 0
  for (let i = start; i < end; i++) {
    if (counts[i] === 0) continue
    const n = groups.sizes[i]!
    total += n * groups.means[i]!
    size += n
    if (n < 2) continue
    sum +=
      spread === 's'
        ? groups.deviations[i]! / meanDeviationFactor(n)
        : groups.ranges[i]! / chartConstants(n).d2
    used++
  }
  return { center: total / size, sigma: used === 0 ? Number.NaN : sum / used }
}
