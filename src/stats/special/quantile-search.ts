/**
 * Smallest whole number k whose distribution function reaches p, see `firstWhere`.
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
  return firstWhere((k) => cdf(k) >= p * (1 - 64 * Number.EPSILON), guess, low, high)
}

/**
 * Smallest whole number from `low` on where a condition holds that, once true, stays true:
 * doubling steps out from a guess, then halving. `high` where it holds nowhere below.
 *
 * @example
 * firstWhere((k) => k * k >= 50, 1, 0, Infinity) // => 8
 */
export function firstWhere(
  holds: (k: number) => boolean,
  guess: number,
  low: number,
  high: number,
): number {
  const start = Math.min(Math.max(Number.isFinite(guess) ? Math.round(guess) : low, low), high)
  let below: number
  let above: number
  if (holds(start)) {
    above = start
    below = start
    for (let step = 1; ; step *= 2) {
      if (above === low) return low
      below = Math.max(low, above - step)
      if (!holds(below)) break
      above = below
    }
  } else {
    below = start
    above = start
    for (let step = 1; ; step *= 2) {
      if (below >= high || below > Number.MAX_SAFE_INTEGER) return high
      above = Math.min(high, below + step)
      if (holds(above)) break
      below = above
    }
  }
  while (above - below > 1) {
    const middle = below + Math.floor((above - below) / 2)
    if (holds(middle)) above = middle
    else below = middle
  }
  return above
}
