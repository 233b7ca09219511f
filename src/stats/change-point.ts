import { AppError } from '../errors.ts'
import {
  requireFraction,
  requireLevel,
  requireNumber,
  requireNumbers,
  requireSameLength,
} from './special/check.ts'

/** The law the values follow on either side of the step. */
export type StepModel = 'normal' | 'binomial' | 'poisson'

/** Where a step most likely happened. */
export interface ChangePoint {
  /** Zero-based index of the first point after the step. */
  readonly at: number
  /** Mean, proportion or rate before and after. */
  readonly before: number
  readonly after: number
  /** First points after the step that the data do not rule out, rising. Not always without gaps. */
  readonly confidenceSet: readonly number[]
  readonly level: number
  /** Twice the gain in log-likelihood over no step at all. It is a maximum over places: no chi-square. */
  readonly deviance: number
  /** Twice the log-likelihood lost against the best place, for a first point after the step at index i + 1. */
  readonly lost: readonly number[]
}

/**
 * Change-point estimate of one step, with a confidence set for where it was.
 *
 * The profile likelihood over every place. A place is kept where its log-likelihood is within
 * `c = −ln(1 − √level)` of the best: around the true place the gain is the largest of two independent
 * walks, whose limit gives `P(gain ≤ c) = (1 − e^−c)²`.
 *
 * @param values  `normal`: at least 4 values, one variance for both sides. `binomial`: numerators.
 *                `poisson`: counts. In time order.
 * @param options `model`, default `normal`; `denominators`, required for `binomial` and optional areas for
 *                `poisson`; `level`, default 0.95.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.length_mismatch`,
 *   `stats.numerator_over_denominator`, `stats.missing_column`; `stats.constant` when the series does not vary.
 *
 * @see Hinkley (1970), Biometrika 57:1 for the estimate; Siegmund (1988), Int Stat Rev 56:31 for the set.
 *
 * @example
 * changePoint([1, 2, 1, 2, 9, 8, 9, 8]).at // => 4
 */
export function changePoint(
  values: readonly number[],
  options: {
    readonly model?: StepModel
    readonly denominators?: readonly number[]
    readonly level?: number
  } = {},
): ChangePoint {
  const { model = 'normal', denominators, level = 0.95 } = options
  requireLevel(level)
  requireNumbers('The series', values, model === 'normal' ? 'finite' : 'a whole count', 4)
  const n = values.length
  if (model === 'binomial' && denominators === undefined) {
    throw new AppError(
      'stats.missing_column',
      'A step in a proportion needs denominators.',
      'Give the number looked at for every point.',
      { column: 'denominators' },
    )
  }
  const areas = denominators ?? values.map(() => 1)
  requireSameLength('The series', values, 'the list of denominators', areas)
  for (let i = 0; i < n && model !== 'normal'; i++) {
    if (model === 'binomial') requireFraction(values[i]!, areas[i]!, i)
    else requireNumber('The denominators', areas[i]!, 'positive', i)
  }

  // For normal values the sums are of deviations from the mean, which keeps their squares small.
  const shift = model === 'normal' ? values.reduce((a, b) => a + b / n, 0) : 0
  const sums = new Float64Array(n + 1)
  const weights = new Float64Array(n + 1)
  let squares = 0
  let largest = 0
  for (let i = 0; i < n; i++) {
    largest = Math.max(largest, Math.abs(values[i]!))
    const x = values[i]! - shift
    squares += x * x
    sums[i + 1] = sums[i]! + x
    weights[i + 1] = weights[i]! + (model === 'normal' ? 1 : areas[i]!)
  }
  const total = sums[n]!
  const weight = weights[n]!
  /** Log-likelihood of one side, up to terms that do not depend on the place. */
  const side = (sum: number, w: number): number => {
    if (model === 'normal') return (sum * sum) / w
    if (model === 'poisson') return xLogX(sum, sum / w)
    return xLogX(sum, sum / w) + xLogX(w - sum, (w - sum) / w)
  }
  const spread = model === 'normal' ? squares - side(total, weight) : 0
  const whole = side(total, weight)
  if (
    model === 'normal'
      ? spread <= 1e-24 * n * largest * largest
      : total === 0 || (model === 'binomial' && total === weight)
  ) {
    throw new AppError(
      'stats.constant',
      'The series does not vary, so there is no step to place.',
      'Record the values more finely, or wait for more points.',
      { n },
    )
  }
  const gains = new Float64Array(n - 1)
  let best = 0
  for (let t = 1; t < n; t++) {
    const gain = side(sums[t]!, weights[t]!) + side(total - sums[t]!, weight - weights[t]!) - whole
    gains[t - 1] =
      model === 'normal' ? -(n / 2) * Math.log(Math.max(1e-300, 1 - gain / spread)) : gain
    if (gains[t - 1]! > gains[best]!) best = t - 1
  }
  const at = best + 1
  const cut = -Math.log(1 - Math.sqrt(level))
  const confidenceSet: number[] = []
  const lost = new Array<number>(n - 1)
  for (let t = 1; t < n; t++) {
    const loss = gains[best]! - gains[t - 1]!
    lost[t - 1] = 2 * loss
    if (loss <= cut) confidenceSet.push(t)
  }
  return {
    at,
    before: sums[at]! / weights[at]! + shift,
    after: (total - sums[at]!) / (weight - weights[at]!) + shift,
    confidenceSet,
    level,
    deviance: 2 * gains[best]!,
    lost,
  }
}

const xLogX = (x: number, p: number): number => (x <= 0 ? 0 : x * Math.log(p))
