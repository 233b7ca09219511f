import { AppError } from '../errors.ts'
import { type LinearModel, type LinearModelOptions, linearModel } from './linear-model.ts'
import { requireNumber, requireNumbers, requireSameLength } from './special/check.ts'

/** What a break did, with the other breaks and the season held. */
export interface SegmentEffect {
  /** Zero-based index of the first point after the break. */
  readonly at: number
  /** Sudden change at that point. */
  readonly level: number
  /** Change of slope per point from there on. */
  readonly slope: number
}

/** A segmented regression. */
export interface SegmentedRegression extends LinearModel {
  readonly effects: readonly SegmentEffect[]
  /** What the line before the first break would have gone on to, at every point. */
  readonly counterfactual: readonly number[]
}

/** Options of a segmented regression. */
export interface SegmentedOptions extends LinearModelOptions {
  /** Points in one cycle of a season (12 for months); with `harmonics` adds that many sine–cosine pairs. */
  readonly period?: number
  /** Pairs of sine and cosine, 1 to half the period; default 0, none. */
  readonly harmonics?: number
  /** Further columns of length n, such as dummy variables of months. */
  readonly extra?: Readonly<Record<string, readonly number[]>>
}

/**
 * Segmented (interrupted time series) regression with any number of breaks.
 *
 * `y_t = b0 + b1 t + Σ_j (level_j [t ≥ T_j] + slope_j (t − T_j)₊)`, t = 1 … n: the slope change counts 0
 * at the first point after the break. Columns are named `constant`, `time`, `level1`, `slope1`, ….
 *
 * @param values  At least 4 + 2 per extra break, in time order, evenly spaced.
 * @param breaks  Zero-based indices of the first point after each break, rising; at least 2 points between
 *                breaks and at either end.
 * @param options Newey–West lag, level, season and extra columns.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.bad_break`,
 *   `stats.length_mismatch`, `stats.dependent_column`.
 *
 * @see Wagner, Soumerai, Zhang & Ross-Degnan (2002), J Clin Pharm Ther 27:299; Newey & West (1987),
 *   Econometrica 55:703.
 *
 * @example
 * segmentedRegression([1, 2, 3, 14, 16, 18], [3]).effects[0].at // => 3
 */
export function segmentedRegression(
  values: readonly number[],
  breaks: readonly number[],
  options: SegmentedOptions = {},
): SegmentedRegression {
  const { period, harmonics = 0, extra = {} } = options
  const n = values.length
  requireNumbers('The series', values, 'finite', 3 + 2 * breaks.length)
  let previous = 0
  for (let j = 0; j < breaks.length; j++) {
    const at = breaks[j]!
    if (!Number.isInteger(at) || at < previous + 2 || at > n - 2) {
      throw new AppError(
        'stats.bad_break',
        `Break ${j + 1} is at index ${at}; it needs at least 2 points on either side, within 0 to ${n - 1}.`,
        'Give the zero-based index of the first point after each break, in rising order.',
        { index: j, at, n },
      )
    }
    previous = at
  }
  requireNumber('The number of harmonics', harmonics, 'a whole count')
  if (harmonics > 0) requireNumber('The period of the season', period ?? 0, 'positive')
  if (harmonics > (period ?? 0) / 2) {
    throw new AppError(
      'stats.out_of_range',
      `${harmonics} harmonics are more than half the period of ${period} points.`,
      'Ask for fewer.',
      { harmonics, period },
    )
  }

  const columns: Record<string, ArrayLike<number>> = {
    constant: new Float64Array(n).fill(1),
    time: Float64Array.from({ length: n }, (_, i) => i + 1),
  }
  breaks.forEach((at, j) => {
    columns[`level${j + 1}`] = Float64Array.from({ length: n }, (_, i) => (i >= at ? 1 : 0))
    columns[`slope${j + 1}`] = Float64Array.from({ length: n }, (_, i) => Math.max(0, i - at))
  })
  for (let h = 1; h <= harmonics; h++) {
    const angle = (i: number) => (2 * Math.PI * h * (i + 1)) / period!
    // At half the period the sine is 0 at every point.
    if (2 * h !== period)
      columns[`sine${h}`] = Float64Array.from(values, (_, i) => Math.sin(angle(i)))
    columns[`cosine${h}`] = Float64Array.from(values, (_, i) => Math.cos(angle(i)))
  }
  for (const [name, column] of Object.entries(extra)) {
    requireSameLength('The series', values, `the column "${name}"`, column)
    columns[name] = column
  }
  const model = linearModel(columns, values, options)
  const estimate = new Map(model.coefficients.map((c) => [c.name, c.estimate]))
  const effects = breaks.map((at, j) => ({
    at,
    level: estimate.get(`level${j + 1}`)!,
    slope: estimate.get(`slope${j + 1}`)!,
  }))
  return {
    ...model,
    effects,
    counterfactual: model.fitted.map((fit, i) =>
      effects.reduce((rest, e) => (i >= e.at ? rest - e.level - e.slope * (i - e.at) : rest), fit),
    ),
  }
}
