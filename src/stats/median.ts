/**
 * The median: the middle value, or the mean of the two middle ones.
 *
 * @param values Any order; length >= 1; all finite. Not changed.
 * @returns The median in the unit of the values; NaN for an empty list.
 *
 * @example
 * medianOf(new Float64Array([5, 1, 4, 2])) // => 3
 */
export function medianOf(values: Float64Array): number {
  const sorted = values.slice().sort()
  const n = sorted.length
  if (n === 0) return Number.NaN
  const low = sorted[(n - 1) >> 1]!
  const high = sorted[n >> 1]!
  // Halving first would lose the last bit; adding first can only overflow at 1e308.
  const sum = low + high
  return Number.isFinite(sum) ? sum / 2 : low / 2 + high / 2
}
