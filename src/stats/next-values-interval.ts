import { AppError } from '../errors.ts'
import type { Interval } from './interval.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { requireLevel, requireNumber, requireNumbers } from './special/check.ts'
import { logGamma } from './special/log-gamma.ts'
import { normalCdf } from './special/normal.ts'
import { integrate } from './special/quadrature.ts'
import { studentTQuantile } from './special/student-t.ts'

/**
 * Range that holds all of the next k single values of a steady, normal process, with given confidence.
 *
 * `mean ± r s`, with r solving `E[(Φ(z/√n + r u) − Φ(z/√n − r u))^k] = level` over the sampling
 * distribution of mean (z) and standard deviation (u). For k = 1, `r = t(n − 1) √(1 + 1/n)`.
 *
 * @param baseline At least 2 values of the steady process, any order.
 * @param k        How many values come next, whole, 1 to 10,000; default 1.
 * @param level    Chance that all k fall inside; default 0.95.
 * @returns Mean of the baseline, and the range.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.constant`.
 *
 * @see Hahn (1969), J Am Stat Assoc 64:878; Hahn & Meeker (1991), Statistical Intervals, section 4.8.
 *
 * @example
 * nextValuesInterval([1, 2, 3]).upper // => 6.96827542350066
 */
export function nextValuesInterval(baseline: readonly number[], k = 1, level = 0.95): Interval {
  requireLevel(level)
  requireNumbers('The baseline', baseline, 'finite', 2)
  requireNumber('The number of next values', k, 'a whole count')
  if (k < 1 || k > 10_000) {
    throw new AppError(
      'stats.out_of_range',
      `The number of next values is ${k}, but must be 1 to 10,000.`,
      'Ask for fewer values at once.',
      { value: k },
    )
  }
  const { n, mean, sd } = meanAndSd(baseline)
  refuseConstant(sd, mean)
  const half = rangeFactor(n, k, level) * sd
  return { estimate: mean, lower: mean - half, upper: mean + half, level }
}

/**
 * Range that holds the mean of the next k values of a steady, normal process.
 *
 * `mean ± t(n − 1) s √(1/n + 1/k)`.
 *
 * @param baseline At least 2 values of the steady process, any order.
 * @param k        How many values the coming mean is of, whole, at least 1.
 * @param level    Chance that the coming mean falls inside; default 0.95.
 * @returns Mean of the baseline, and the range.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.constant`.
 *
 * @see Hahn & Meeker (1991), Statistical Intervals, section 4.7.
 *
 * @example
 * nextMeanInterval([1, 2, 3], 3).estimate // => 2
 */
export function nextMeanInterval(baseline: readonly number[], k: number, level = 0.95): Interval {
  requireLevel(level)
  requireNumbers('The baseline', baseline, 'finite', 2)
  requireNumber('The number of next values', k, 'a whole count')
  requireNumber('The number of next values', k, 'positive')
  const { n, mean, sd } = meanAndSd(baseline)
  refuseConstant(sd, mean)
  const half = -studentTQuantile((1 - level) / 2, n - 1) * sd * Math.sqrt(1 / n + 1 / k)
  return { estimate: mean, lower: mean - half, upper: mean + half, level }
}

function refuseConstant(sd: number, mean: number): void {
  if (sd > 0) return
  throw new AppError(
    'stats.constant',
    `Every value of the baseline is ${mean}, so the spread of the next ones cannot be told.`,
    'Record the values more finely, or collect a longer baseline.',
    { value: mean },
  )
}

/** The factor r of the docstring, by halving between its bounds for one value and for Bonferroni's k. */
function rangeFactor(n: number, k: number, level: number): number {
  const df = n - 1
  const stretch = Math.sqrt(1 + 1 / n)
  const single = -studentTQuantile((1 - level) / 2, df) * stretch
  if (k === 1) return single
  let low = single
  let high = -studentTQuantile((1 - level) / 2 / k, df) * stretch
  for (let i = 0; i < 60 && high - low > 1e-12 * high; i++) {
    const middle = (low + high) / 2
    if (chanceAllInside(middle, n, k) < level) low = middle
    else high = middle
  }
  return (low + high) / 2
}

function chanceAllInside(r: number, n: number, k: number): number {
  const df = n - 1
  const half = df / 2
  const logConstant = Math.LN2 + half * Math.log(half) - logGamma(half)
  const spread = 1 / Math.sqrt(2 * df)
  const root = 1 / Math.sqrt(n)
  return (
    integrate(
      (u) => {
        const density = Math.exp(logConstant + (df - 1) * Math.log(u) - half * u * u)
        if (density < 1e-14) return 0
        const inside = (z: number) =>
          (normalCdf(z * root + r * u) - normalCdf(z * root - r * u)) ** k
        // Even in z: twice the upper half.
        return density * 2 * integrate((z) => inside(z) * Math.exp((-z * z) / 2), 0, 8.5, 2)
      },
      Math.max(0, 1 - 11 * spread),
      1 + 11 * spread,
      4,
    ) / Math.sqrt(2 * Math.PI)
  )
}
