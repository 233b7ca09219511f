import { AppError } from '../errors.ts'
import type { Interval } from './interval.ts'
import { requireLevel, requireNumber, requireNumbers, requireSameLength } from './special/check.ts'
import { leastSquares } from './special/least-squares.ts'
import { studentTQuantile } from './special/student-t.ts'

/** The power law `T(n) = first · n^exponent`. */
export interface LearningCurve {
  readonly n: number
  /** T1, the fitted time of the first round. */
  readonly first: number
  /** b, below 0 where times fall. */
  readonly exponent: Interval
  /** 2^b: each doubling of rounds multiplies the time by this. */
  readonly progressRatio: Interval
  /** Share of the variation of the log times that the curve explains; `null` where they do not vary. */
  readonly rSquared: number | null
}

/**
 * Learning curve of a repeated task, `T(n) = T1 · n^b`, by least squares on logs.
 *
 * @param times   Time of each round, all above 0, at least 3.
 * @param options `rounds`: number of each round, above 0, default 1, 2, 3, …; `level`, default 0.95.
 * @returns T1 in the unit of the times. `first` is a median on the original scale.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`,
 *   `stats.length_mismatch`; `stats.constant` when all rounds have the same number.
 *
 * @see Wright (1936), J Aeronaut Sci 3:122.
 *
 * @example
 * learningCurve([100, 80, 64], { rounds: [1, 2, 4] }).progressRatio.estimate // => 0.8000000000
 */
export function learningCurve(
  times: readonly number[],
  options: { readonly rounds?: readonly number[]; readonly level?: number } = {},
): LearningCurve {
  const { rounds = times.map((_, i) => i + 1), level = 0.95 } = options
  requireLevel(level)
  requireSameLength('The list of times', times, 'the list of rounds', rounds)
  requireNumbers('The times', times, 'positive', 3)
  requireNumbers('The rounds', rounds, 'positive', 3)
  const y = times.map(Math.log)
  const n = y.length
  const fit = leastSquares([new Float64Array(n).fill(1), rounds.map(Math.log)], y)
  if (fit.dependentColumn !== null) {
    throw new AppError(
      'stats.constant',
      `Every round is number ${rounds[0]}, so there is no curve to fit.`,
      'Number the rounds in the order they were run.',
      { round: rounds[0] },
    )
  }
  let residual = 0
  let total = 0
  const mean = y.reduce((a, b) => a + b, 0) / n
  for (let i = 0; i < n; i++) {
    residual += fit.residuals[i]! ** 2
    total += (y[i]! - mean) ** 2
  }
  const b = fit.coefficients[1]!
  const error = Math.sqrt((residual / (n - 2)) * fit.inverse[1]![1]!)
  const half = -studentTQuantile((1 - level) / 2, n - 2) * error
  const exponent = { estimate: b, lower: b - half, upper: b + half, level }
  return {
    n,
    first: Math.exp(fit.coefficients[0]!),
    exponent,
    progressRatio: {
      estimate: 2 ** b,
      lower: 2 ** exponent.lower,
      upper: 2 ** exponent.upper,
      level,
    },
    rSquared: total === 0 ? null : Math.max(0, 1 - residual / total),
  }
}

/**
 * Time a learning curve gives for a round.
 *
 * @param curve First time and exponent.
 * @param round Number of the round, above 0.
 * @returns In the unit of the times.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Wright (1936), J Aeronaut Sci 3:122.
 *
 * @example
 * learningCurveTime({ first: 100, exponent: { estimate: -1 } }, 4) // => 25
 */
export function learningCurveTime(
  curve: { readonly first: number; readonly exponent: { readonly estimate: number } },
  round: number,
): number {
  requireNumber('The round', round, 'positive')
  requireNumber('The first time', curve.first, 'positive')
  requireNumber('The exponent', curve.exponent.estimate, 'finite')
  return curve.first * round ** curve.exponent.estimate
}
