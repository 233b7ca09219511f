/**
 * Smallest whole number k whose distribution function reaches p, by doubling out from a guess and halving.
 *
 * A shortfall within rounding of p (64 machine epsilons) counts as reached, so that `cdf(k)` maps back to k.
 *
 * @param cdf   Non-decreasing in k.
 * @param guess Any starting point; the nearer the faster.
 * @param low   Smallest value of the support.
 * @param high  Largest value of the support; may be Infinity.
 * @example
 * smallestReaching((k) => (k < 3 ? 0 : 1), 0.5, 10, 0, Infinity) // => 3
 */
export function smallestReaching(
  cdf: (k: number) => number,
  p: number,
  guess: number,
  low: number,
  high: number,
): number {
  const reaches = (k: number) => cdf(k) >= p * (1 - 64 * Number.EPSILON)
  let k = Math.min(Math.max(Math.round(guess), low), high)
  let above: number
  let below: number
  if (reaches(k)) {
    above = k
    for (let step = 1; ; step *= 2) {
      if (above === low) return low
      k = Math.max(low, above - step)
      if (!reaches(k)) break
      above = k
    }
    below = k
  } else {
    below = k
    for (let step = 1; ; step *= 2) {
      if (below >= high || !Number.isFinite(below)) return high
      k = Math.min(high, below + step)
      if (reaches(k)) break
      below = k
    }
    above = k
  }
  while (above - below > 1) {
    const middle = below + Math.floor((above - below) / 2)
    if (middle === below || middle === above) break
    if (reaches(middle)) above = middle
    else below = middle
  }
  return above
}
