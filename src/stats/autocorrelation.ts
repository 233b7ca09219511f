import { AppError } from '../errors.ts'
import { requireNumber, requireNumbers, requireWork } from './special/check.ts'
import { chiSquareTails } from './special/chi-square.ts'
import { normalQuantile } from './special/normal.ts'
import { compensatedSum } from './special/numeric.ts'

/** How much a series resembles itself some points earlier. */
export interface Autocorrelation {
  readonly n: number
  /** r1, r2, … up to the lag asked for. */
  readonly values: readonly number[]
  /** Unrelated points give |r| below this 95 times in 100: 1.96 / √n. */
  readonly bound: number
  /** Ljung and Box's Q over all lags together, with its chi-square p. */
  readonly q: number
  readonly p: number
}

/**
 * Autocorrelations of a series, with the Ljung–Box test.
 *
 * `r_k = Σ (x_t − x̄)(x_{t+k} − x̄) / Σ (x_t − x̄)²`; `Q = n (n + 2) Σ r_k² / (n − k)`.
 *
 * @param values At least 3, in time order, evenly spaced.
 * @param lags   How many lags, whole, 1 to n − 1; default 1.
 * @throws AppError `stats.too_few_points`, `stats.too_many_points`, `stats.not_finite`, `stats.out_of_range`;
 *   `stats.constant` when the series does not vary.
 *
 * @see Box & Jenkins (1976), Time Series Analysis, section 2.1; Ljung & Box (1978), Biometrika 65:297.
 *
 * @example
 * autocorrelation([10000001, 10000003, 10000002]).values // => [-0.5]
 */
export function autocorrelation(values: readonly number[], lags = 1): Autocorrelation {
  requireNumbers('The series', values, 'finite', 3)
  const n = values.length
  requireNumber('The number of lags', lags, 'a whole count')
  if (lags < 1 || lags >= n) {
    throw new AppError(
      'stats.out_of_range',
      `${lags} lags were asked of ${n} points.`,
      `Ask for 1 to ${n - 1}.`,
      { lags, n },
    )
  }
  requireWork(n * lags, 'Ask for fewer lags.')
  const mean = compensatedSum(values) / n
  const d = new Float64Array(n)
  const dd = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    d[i] = values[i]! - mean
    dd[i] = d[i]! * d[i]!
  }
  const squares = compensatedSum(dd)
  if (values.every((x) => x === values[0]) || squares === 0) {
    throw new AppError(
      'stats.constant',
      `Every value is ${values[0]}, so there is no autocorrelation.`,
      'Record the values more finely.',
      { value: values[0] },
    )
  }
  const r: number[] = []
  let q = 0
  for (let k = 1; k <= lags; k++) {
    let sum = 0
    for (let t = k; t < n; t++) sum += d[t]! * d[t - k]!
    r.push(sum / squares)
    q += (sum / squares) ** 2 / (n - k)
  }
  q *= n * (n + 2)
  const p = chiSquareTails(q, lags).upper
  return { n, values: r, bound: normalQuantile(0.975) / Math.sqrt(n), q, p }
}
