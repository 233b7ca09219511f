import { leastSquares } from '../stats/special/least-squares.ts'
import { studentTQuantile } from '../stats/special/student-t.ts'

/** A step from one stretch of points to the next, with an interval that allows for what is named. */
export interface Step {
  readonly estimate: number
  readonly lower: number
  readonly upper: number
  /** Correlation of neighbouring points that the interval allows for, 0 to 0.8. */
  readonly r: number
  /** How much wider than for independent points that spread as chance alone (`floor`) has it. */
  readonly widened: number
}

export interface StepOptions {
  /** A straight line through both stretches as well as the step. */
  readonly trend: boolean
  /** When each point was, in any unit, rising; left out: evenly spaced. */
  readonly times?: readonly number[] | undefined
  /** For each point which part of the season it belongs to (month, weekday); `null`: not fitted. */
  readonly season: readonly number[] | null
  /** Variance of one point times its weight that chance alone gives (¼ on the root scales); 0: unknown. */
  readonly floor: number
  /** `likely`: the correlation estimated. `cautious`: one standard error more. `none`: independent. */
  readonly correlation: 'likely' | 'cautious' | 'none'
  readonly level?: number
}

const LARGEST_R = 0.8

/**
 * The step between two stretches of one series by weighted least squares, allowing for points that
 * resemble their neighbours (first-order autocorrelation), a straight drift and a season.
 *
 * With `a` the weights that make the step out of the points and `R` the correlations `r^|i−j|`, its
 * variance is `s² a′Ra`, `s² = RSS ÷ tr(MR)`; t with `(n − k)(1 − r²)/(1 + r²)` degrees of freedom.
 * `r` is the residuals' first autocorrelation less its bias under independence, `−tr(HL)/(n − k)`.
 *
 * @param y       In time order, on a scale where they spread alike.
 * @param weights Above 0, as long as `y`.
 * @param first   How many belong to the first stretch.
 * @returns `null` where there are too few points for the columns, or nothing varies.
 *
 * @see Box, Jenkins & Reinsel (1994), Time Series Analysis, 2.1 for the autocorrelations of AR(1);
 *   Bayley & Hammersley (1946), J R Stat Soc Suppl 8:184 for the effective number of observations.
 */
export function stepBetween(
  y: readonly number[],
  weights: readonly number[],
  first: number,
  options: StepOptions,
): Step | null {
  if (first < 1 || first >= y.length) return null
  return coefficientOf((i) => (i >= first ? 1 : 0), y, weights, options)
}

/**
 * The slope per point of one stretch, by the same means as `stepBetween`.
 *
 * @returns `null` where there are too few points, or nothing varies.
 */
export function slopeOf(
  y: readonly number[],
  weights: readonly number[],
  options: StepOptions,
): Step | null {
  return coefficientOf((i) => i - (y.length - 1) / 2, y, weights, options)
}

function coefficientOf(
  shape: (i: number) => number,
  y: readonly number[],
  weights: readonly number[],
  options: StepOptions,
): Step | null {
  const { trend, times, season, floor, correlation, level = 0.95 } = options
  const n = y.length
  const roots = weights.map(Math.sqrt)
  const columns: Float64Array[] = [
    Float64Array.from(roots, (root, i) => root * shape(i)),
    Float64Array.from(roots),
  ]
  if (trend) columns.push(Float64Array.from(roots, (root, i) => root * (times?.[i] ?? i / n)))
  const parts = [...new Set(season ?? [])].sort((a, b) => a - b).slice(1)
  for (const part of parts)
    columns.push(Float64Array.from(roots, (root, i) => (season![i] === part ? root : 0)))
  const k = columns.length
  if (n - k < 2) return null
  const fit = leastSquares(
    columns,
    Float64Array.from(y, (v, i) => v * roots[i]!),
  )
  if (fit.dependentColumn !== null) return null
  let squares = 0
  let lagged = 0
  fit.residuals.forEach((e, i) => {
    squares += e * e
    if (i > 0) lagged += e * fit.residuals[i - 1]!
  })
  const size = y.reduce((sum, v, i) => sum + weights[i]! * v * v, 0)
  if (squares <= 1e-18 * size && floor === 0) return null

  const across = (r: number, a: ArrayLike<number>, b: ArrayLike<number>) => {
    let sum = 0
    let ahead = 0
    let behind = 0
    for (let i = 0; i < n; i++) {
      sum += a[i]! * b[i]! + a[i]! * behind + b[i]! * ahead
      behind = r * (behind + b[i]!)
      ahead = r * (ahead + a[i]!)
    }
    return sum
  }
  const hatTrace = (product: (a: Float64Array, b: Float64Array) => number) => {
    let sum = 0
    for (let i = 0; i < k; i++)
      for (let j = 0; j < k; j++) sum += fit.inverse[i]![j]! * product(columns[i]!, columns[j]!)
    return sum
  }
  const bias =
    hatTrace((a, b) => {
      let sum = 0
      for (let t = 1; t < n; t++) sum += a[t]! * b[t - 1]!
      return sum
    }) /
    (n - k)
  const found = squares > 0 ? lagged / squares : 0
  const likely = found + bias * (1 + Math.max(0, found + bias))
  const r =
    correlation === 'none'
      ? 0
      : Math.min(
          LARGEST_R,
          Math.max(0, likely + (correlation === 'cautious' ? 1 / Math.sqrt(n) : 0)),
        )

  const estimate = fit.coefficients[0]!
  const share = Float64Array.from({ length: n }, (_, i) =>
    columns.reduce((sum, column, j) => sum + fit.inverse[0]![j]! * column[i]!, 0),
  )
  const half = (rho: number) => {
    const free = n - hatTrace((a, b) => across(rho, a, b))
    const variance = Math.max(floor, squares / Math.max(free, 0.5))
    const df = Math.max(1, ((n - k) * (1 - rho * rho)) / (1 + rho * rho))
    const known = floor > 0 && variance === floor
    const t = -studentTQuantile((1 - level) / 2, known ? Infinity : df)
    return t * Math.sqrt(variance * across(rho, share, share))
  }
  const wide = half(r)
  const normal = -studentTQuantile((1 - level) / 2, Infinity)
  const narrow = floor > 0 ? normal * Math.sqrt(floor * across(0, share, share)) : half(0)
  return {
    estimate,
    lower: estimate - wide,
    upper: estimate + wide,
    r,
    widened: Math.max(1, wide / narrow),
  }
}
