import { requireNumber, requireNumbers } from './special/check.ts'

/** An exponentially weighted moving average and its limits, one value a point. */
export interface WeightedAverage {
  readonly average: Float64Array
  readonly lower: Float64Array
  readonly upper: Float64Array
  /** Sigma of the average at that point. */
  readonly sigma: Float64Array
}

/**
 * EWMA with time-varying limits: `z[i] = λ x[i] + (1−λ) z[i−1]`, starting at the target; limits
 * target ± L σ √(λ/(2−λ) · (1 − (1−λ)^(2i))) for the i-th point.
 *
 * @param values Points in time order, gaps taken out.
 * @param target Level to hold.
 * @param sigma  Sigma of one point, >= 0.
 * @param lambda Weight of the newest point, above 0 to 1.
 * @param L      Width of the limits.
 * @returns Columns of the same length, in the unit of the values.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4; Lucas & Saccucci 1990.
 *
 * @example
 * weightedAverage(Float64Array.of(52, 47), 50, 2, 0.3, 3).average[0] // => 50.6
 */
export function weightedAverage(
  values: Float64Array,
  target: number,
  sigma: number,
  lambda: number,
  L: number,
): WeightedAverage {
  requireNumbers('The values', values, 'finite', 0)
  requireNumber('The target', target, 'finite')
  requireNumber('Sigma', sigma, 'not negative')
  requireNumber('Lambda', lambda, 'a share')
  requireNumber('L', L, 'not negative')
  const column = () => new Float64Array(values.length)
  const [average, lower, upper, sigmas] = [column(), column(), column(), column()]
  let z = target
  let fade = 1
  for (let i = 0; i < values.length; i++) {
    z = lambda * values[i]! + (1 - lambda) * z
    fade *= (1 - lambda) * (1 - lambda)
    const here = sigma * Math.sqrt((lambda / (2 - lambda)) * (1 - fade))
    average[i] = z
    sigmas[i] = here
    lower[i] = target - L * here
    upper[i] = target + L * here
  }
  return { average, lower, upper, sigma: sigmas }
}

/** Upper and lower cumulative sums, one value a point. */
export interface CumulativeSums {
  readonly high: Float64Array
  readonly low: Float64Array
}

/**
 * Tabular CUSUM: `high[i] = max(0, high[i−1] + x[i] − target − k)` and
 * `low[i] = max(0, low[i−1] + target − x[i] − k)`, both starting at 0.
 *
 * @param values Points in time order, gaps taken out.
 * @param target Level to hold.
 * @param k      Slack, in the unit of the values (the chart option is in sigmas).
 * @returns Both sums, >= 0, in the unit of the values.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.3.
 *
 * @example
 * Array.from(cumulativeSums(Float64Array.of(2, 2), 0, 0.5).high) // => [1.5, 3]
 */
export function cumulativeSums(values: Float64Array, target: number, k: number): CumulativeSums {
  requireNumbers('The values', values, 'finite', 0)
  requireNumber('The target', target, 'finite')
  requireNumber('The slack', k, 'not negative')
  const high = new Float64Array(values.length)
  const low = new Float64Array(values.length)
  let up = 0
  let down = 0
  for (let i = 0; i < values.length; i++) {
    const step = values[i]! - target
    up = Math.max(0, up + step - k)
    down = Math.max(0, down - step - k)
    high[i] = up
    low[i] = down
  }
  return { high, low }
}
