import { AppError } from '../errors.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { requireNumbers } from './special/check.ts'
import { normalLogCdf } from './special/normal.ts'

/** Anderson and Darling's test. */
export interface AndersonDarling {
  readonly n: number
  /** A², before Stephens's adjustment for n. */
  readonly statistic: number
  /** A² (1 + 0.75/n + 2.25/n²). */
  readonly adjusted: number
  readonly p: number
}

/**
 * Anderson and Darling's test of normality, mean and standard deviation estimated.
 *
 * `A² = −n − (1/n) Σ (2i − 1) (ln Φ(z_i) + ln(1 − Φ(z_{n+1−i})))`, z sorted.
 *
 * @param values At least 8, any order.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`; `stats.constant` when the values do not vary.
 *
 * @see Anderson & Darling (1954), JASA 49:765; Stephens (1974), JASA 69:730; D'Agostino & Stephens (1986),
 *   Goodness-of-Fit Techniques, table 4.9 for the p-value.
 *
 * @example
 * andersonDarling([1, 2, 3, 4, 5, 6, 7, 8]).n // => 8
 */
export function andersonDarling(values: readonly number[]): AndersonDarling {
  requireNumbers('The values', values, 'finite', 8)
  const { n, mean, sd } = meanAndSd(values)
  if (sd === 0) {
    throw new AppError(
      'stats.constant',
      `Every value is ${mean}, so there is no shape to test.`,
      'Record the values more finely.',
      { value: mean },
    )
  }
  const z = Float64Array.from(values, (x) => (x - mean) / sd).sort()
  let sum = 0
  for (let i = 0; i < n; i++) {
    sum += ((2 * i + 1) / n) * (normalLogCdf(z[i]!) + normalLogCdf(-z[n - 1 - i]!))
  }
  const statistic = -n - sum
  const adjusted = statistic * (1 + 0.75 / n + 2.25 / (n * n))
  return { n, statistic, adjusted, p: pValue(adjusted) }
}

function pValue(a: number): number {
  if (a >= 0.6) return a > 13 ? 0 : Math.min(1, Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a))
  if (a >= 0.34) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a)
  if (a >= 0.2) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a)
  return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a)
}
