import { requireNumber, requireSpan } from './special/check.ts'

/** E(|X1 − X2|) / sigma for two independent normal values: d2 at n = 2, exactly 2/√π. */
export const D2_PAIR = 2 / Math.sqrt(Math.PI)

/** Centre line and sigma of a chart whose points all have the same limits. */
export interface CenterAndSigma {
  readonly center: number
  /** NaN where it cannot be estimated. */
  readonly sigma: number
}

/**
 * Mean moving range: the mean of |x[i] − x[i−1]| over neighbours that both count.
 *
 * A moving range is not taken across a gap or a point left out.
 *
 * @param values Points in time order; NaN at a gap.
 * @param counts 1 where a point counts; same length.
 * @param start  First position.
 * @param end    One past the last position.
 * @returns The mean moving range in the unit of the values; NaN where no two neighbours count.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2.
 *
 * @example
 * meanMovingRange(new Float64Array([1, 3, 2]), new Uint8Array([1, 1, 1]), 0, 3) // => 1.5
 */
export function meanMovingRange(
  values: Float64Array,
  counts: Uint8Array,
  start: number,
  end: number,
): number {
  requireSpan(values.length, start, end)
  let sum = 0
  let pairs = 0
  for (let i = start + 1; i < end; i++) {
    if (counts[i] === 0 || counts[i - 1] === 0) continue
    sum += Math.abs(values[i]! - values[i - 1]!)
    pairs++
  }
  return pairs === 0 ? Number.NaN : sum / pairs
}

/**
 * Mean of the points that count, and sigma from the mean moving range: `sigma = MR / d2`, with
 * d2 = 2/√π (printed as 1.128).
 *
 * @param values Points in time order; NaN at a gap.
 * @param counts 1 where a point counts; same length.
 * @param start  First position. Default 0.
 * @param end    One past the last position. Default the length.
 * @returns Centre and sigma in the unit of the values; NaN where nothing counts, or no two neighbours.
 * @throws AppError `stats.bad_index`, `stats.not_finite`, `stats.out_of_range`.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2.
 *
 * @example
 * individualsCenter(new Float64Array([5, 5, 5]), new Uint8Array([1, 1, 1])) // => { center: 5, sigma: 0 }
 */
export function individualsCenter(
  values: Float64Array,
  counts: Uint8Array,
  start = 0,
  end = values.length,
): CenterAndSigma {
  requireSpan(values.length, start, end)
  const first = firstCounted(counts, start, end)
  if (first === -1) return { center: Number.NaN, sigma: Number.NaN }
  // Differences from the first point keep the digits of a series with a large constant part.
  const origin = values[first]!
  let sum = 0
  let n = 0
  for (let i = first; i < end; i++) {
    if (counts[i] === 0) continue
    sum += values[i]! - origin
    n++
  }
  if (!Number.isFinite(sum)) {
    for (let i = first; i < end; i++) {
      if (counts[i] === 1) requireNumber('The values', values[i]!, 'finite', i)
    }
  }
  return {
    center: origin + sum / n,
    sigma: meanMovingRange(values, counts, start, end) / D2_PAIR,
  }
}

function firstCounted(counts: Uint8Array, start: number, end: number): number {
  for (let i = start; i < end; i++) if (counts[i] === 1) return i
  return -1
}
