import { LOWER_TAIL, UPPER_TAIL } from './small-count-quantiles.ts'
import { requireNumber } from './special/check.ts'
import { geometricQuantile } from './special/geometric.ts'

/** Centre and limits of a chart whose points all share them. */
export interface RareLimits {
  readonly center: number
  readonly sigma: number
  readonly lower: number
  readonly upper: number
}

/**
 * Limits of a G chart: cases between rare events, which follow a geometric distribution with
 * p = 1/(mean + 1) when nothing changes.
 *
 * `probability`: the smallest counts x with P(X <= x) >= 0.00135 and >= 0.99865. `sigma`: mean ± 3
 * √(mean (mean + 1)), not below 0; their upper limit is passed by chance nearly 2 times in 100.
 *
 * @param mean   Mean number of cases without the event between two events, >= 0.
 * @param method `probability` (preferred) or `sigma`.
 * @returns Centre (the mean), sigma and limits in cases.
 * @see Benneyan 2001, Health Care Manag Sci 4:305.
 *
 * @example
 * geometricLimits(99, 'probability').upper // => 657
 */
export function geometricLimits(mean: number, method: 'probability' | 'sigma'): RareLimits {
  requireNumber('The mean of a G chart', mean, 'not negative')
  const sigma = Math.sqrt(mean * (mean + 1))
  if (method === 'sigma') {
    return { center: mean, sigma, lower: Math.max(0, mean - 3 * sigma), upper: mean + 3 * sigma }
  }
  const p = 1 / (mean + 1)
  return {
    center: mean,
    sigma,
    lower: geometricQuantile(LOWER_TAIL, p),
    upper: geometricQuantile(UPPER_TAIL, p),
  }
}

/** The power that makes exponential times close to normal. Nelson 1994 prints 1/3.6 and 0.2777. */
const TIME_POWER = 1 / 3.6

/**
 * A time between events on the scale of a T chart, where it is close to normal: t^(1/3.6).
 *
 * @param time Time between two events, >= 0.
 * @returns The transformed time.
 * @see Nelson 1994, J Qual Technol 26:239.
 *
 * @example
 * transformedTime(1) // => 1
 */
export function transformedTime(time: number): number {
  requireNumber('A time', time, 'not negative')
  return time ** TIME_POWER
}

/**
 * Back from the scale of a T chart: y^3.6, and 0 for a negative y.
 *
 * @param y A value on the transformed scale.
 * @returns A time, >= 0.
 * @see Nelson 1994, J Qual Technol 26:239.
 *
 * @example
 * timeFromTransformed(-1) // => 0
 */
export function timeFromTransformed(y: number): number {
  // Beyond this the time itself could overflow.
  if (!(y <= 1e80)) requireNumber('A transformed time', y > 1e80 ? Infinity : y, 'finite')
  return y <= 0 ? 0 : y ** 3.6
}
