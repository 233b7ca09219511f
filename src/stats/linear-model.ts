import { AppError } from '../errors.ts'
import { durbinWatson } from './durbin-watson.ts'
import {
  requireLevel,
  requireNumber,
  requireNumbers,
  requireSameLength,
  requireWork,
} from './special/check.ts'
import { leastSquares } from './special/least-squares.ts'
import { studentTQuantile, studentTTails } from './special/student-t.ts'

/** One coefficient of a linear model. */
export interface Coefficient {
  readonly name: string
  readonly estimate: number
  /** Ordinary standard error, or Newey–West's where a lag was given. */
  readonly standardError: number
  readonly t: number
  /** Two-sided. */
  readonly p: number
  readonly lower: number
  readonly upper: number
}

/** A fitted linear model. */
export interface LinearModel {
  readonly n: number
  readonly coefficients: readonly Coefficient[]
  readonly fitted: readonly number[]
  readonly residuals: readonly number[]
  /** Residual standard deviation. */
  readonly sigma: number
  readonly df: number
  /** `null` where the response does not vary. */
  readonly rSquared: number | null
  /** `null` where the fit is perfect. */
  readonly durbinWatson: number | null
  readonly level: number
  /** Lags of the Newey–West errors; `null` where ordinary errors were used. */
  readonly lag: number | null
}

/** Options of a linear model. */
export interface LinearModelOptions {
  /** Lags of Newey–West standard errors, whole, 0 or more (0 is White's). `null`, the default: ordinary errors. */
  readonly lag?: number | null
  /** Multiply the Newey–West covariance by n / (n − k). Default false. */
  readonly smallSample?: boolean
  /** Confidence of the intervals; default 0.95. */
  readonly level?: number
}

/**
 * Ordinary least squares by Householder QR, with ordinary or Newey–West standard errors.
 *
 * Newey–West: `(X'X)⁻¹ (Γ0 + Σ_l (1 − l/(L+1)) (Γ_l + Γ_l')) (X'X)⁻¹`, with
 * `Γ_l = Σ_t e_t e_{t−l} x_t x_{t−l}'` (Bartlett weights).
 *
 * @param columns Named columns of the design, each of length n, in time order where a lag is given.
 * @param y       Response, length n, more values than columns.
 * @param options See `LinearModelOptions`.
 * @returns Intervals and p-values use Student's t with n − k degrees of freedom.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.length_mismatch`,
 *   `stats.out_of_range`, `stats.too_many_points`; `stats.dependent_column` names the column that adds nothing new.
 *
 * @see Golub & Van Loan (2013), Matrix Computations, section 5.3; Newey & West (1987), Econometrica 55:703.
 *
 * @example
 * linearModel({ constant: [1, 1, 1] }, [1, 2, 3]).coefficients[0].standardError // => 0.5773502692
 */
export function linearModel(
  columns: Readonly<Record<string, ArrayLike<number>>>,
  y: readonly number[],
  options: LinearModelOptions = {},
): LinearModel {
  const { lag = null, smallSample = false, level = 0.95 } = options
  requireLevel(level)
  const names = Object.keys(columns)
  const design = names.map((name) => columns[name]!)
  const n = y.length
  const k = names.length
  requireNumbers('The response', y, 'finite', k + 1)
  requireNumber('The number of columns', k, 'positive')
  for (const name of names) {
    requireSameLength('The response', y, `the column "${name}"`, columns[name]!)
    requireNumbers(`The column "${name}"`, columns[name]!, 'finite', k + 1)
  }
  if (lag !== null) requireNumber('The lag', lag, 'a whole count')
  requireWork(n * k * k * (1 + Math.min(lag ?? 0, n)), 'Ask for fewer lags or columns.')
  const { coefficients, residuals, inverse, dependentColumn } = leastSquares(design, y)
  if (dependentColumn !== null) {
    throw new AppError(
      'stats.dependent_column',
      `The column "${names[dependentColumn]}" says nothing that the columns before it do not.`,
      'Leave it out, or move the break so that points lie on both sides of it.',
      { column: names[dependentColumn], index: dependentColumn },
    )
  }
  const df = n - k
  const squares = residuals.reduce((sum, e) => sum + e * e, 0)
  const covariance =
    lag === null
      ? inverse.map((row) => row.map((v) => (v * squares) / df))
      : neweyWest(design, residuals, inverse, Math.min(lag, n - 1), smallSample ? n / df : 1)
  const mean = y.reduce((a, b) => a + b, 0) / n
  const total = y.reduce((sum, v) => sum + (v - mean) ** 2, 0)
  const critical = -studentTQuantile((1 - level) / 2, df)
  // Below this share of the response the residuals are rounding error.
  const perfect = squares <= 1e-24 * y.reduce((sum, v) => sum + v * v, 0)
  return {
    n,
    coefficients: names.map((name, j) => {
      const estimate = coefficients[j]!
      const standardError = Math.sqrt(Math.max(0, covariance[j]![j]!))
      const t = estimate === 0 ? 0 : estimate / standardError
      const half = critical * standardError
      const p = 2 * studentTTails(-Math.abs(t), df).lower
      return { name, estimate, standardError, t, p, lower: estimate - half, upper: estimate + half }
    }),
    fitted: y.map((v, i) => v - residuals[i]!),
    residuals: [...residuals],
    sigma: Math.sqrt(squares / df),
    df,
    rSquared: total === 0 ? null : 1 - squares / total,
    durbinWatson: perfect ? null : durbinWatson([...residuals]),
    level,
    lag,
  }
}

function neweyWest(
  design: readonly ArrayLike<number>[],
  residuals: Float64Array,
  inverse: readonly Float64Array[],
  lag: number,
  scale: number,
): number[][] {
  const n = residuals.length
  const k = design.length
  const scores = design.map((column) => Float64Array.from(column, (x, t) => x * residuals[t]!))
  const meat = Array.from({ length: k }, () => new Array<number>(k).fill(0))
  for (let l = 0; l <= lag; l++) {
    const weight = 1 - l / (lag + 1)
    for (let i = 0; i < k; i++) {
      for (let j = 0; j < k; j++) {
        let sum = 0
        for (let t = l; t < n; t++) sum += scores[i]![t]! * scores[j]![t - l]!
        meat[i]![j]! += weight * sum
        if (l > 0) meat[j]![i]! += weight * sum
      }
    }
  }
  const times = (a: readonly ArrayLike<number>[], b: readonly ArrayLike<number>[]) =>
    a.map((row) =>
      Array.from({ length: k }, (_, j) => {
        let sum = 0
        for (let m = 0; m < k; m++) sum += row[m]! * b[m]![j]!
        return sum
      }),
    )
  return times(times(inverse, meat), inverse).map((row) => row.map((v) => v * scale))
}
