import type { Interval } from './interval.ts'
import { requireLevel, requireNumber, requireNumbers, requireSameLength } from './special/check.ts'
import { chiSquareTails } from './special/chi-square.ts'
import { fTails } from './special/f-distribution.ts'
import { normalQuantile } from './special/normal.ts'
import { studentTQuantile } from './special/student-t.ts'

export interface RandomEffectsOptions {
  /** Two-sided confidence of the interval; default 0.95. */
  readonly level?: number
  /** Degrees of freedom behind each standard error, above 0; left out, the errors count as known. */
  readonly degreesOfFreedom?: readonly number[]
}

/** Several estimates of one effect, taken together. */
export interface RandomEffects extends Interval {
  /** How many estimates. */
  readonly n: number
  /** Of the estimate over all, `1 / √Σ w*`. */
  readonly standardError: number
  /** Cochran's Q. */
  readonly q: number
  /** Chance of a Q as large where all share one effect. */
  readonly p: number
  /** Share of the spread between estimates that is more than their errors explain, 0 to 1. */
  readonly iSquared: number
  /** Variance of the effects themselves, at least 0. */
  readonly tauSquared: number
  /** Share of each estimate in the one over all, in the order given. */
  readonly weights: readonly number[]
}

/**
 * Several estimates of one effect, such as of several wards: whether they differ more than chance
 * would, and the effect over all with an interval that allows for that.
 *
 * `Q = Σ w (y − ȳ)²` with `w = 1 / s²`; `I² = max(0, (Q − (n − 1)) / Q)`; τ² by DerSimonian and
 * Laird's moments. The mean over all weighs by `w* = 1 / (s² + τ²)`. Its interval is the wider of
 * Hartung and Knapp's, `± t(n − 1) √(Σ w* (y − μ)² / (n − 1) / Σ w*)`, which few estimates that
 * happen to agree make too narrow, and the classic `± z / √Σ w*`. Where the errors were themselves
 * estimated, Student's t with Satterthwaite's degrees of freedom stands for z, and p is Welch's F,
 * into which Q goes; else p is from chi-square.
 *
 * @param estimates      At least 2, on a scale on which errors are about normal, such as logs.
 * @param standardErrors One each, above 0.
 * @returns The effect over all in the unit of the estimates.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`,
 *   `stats.length_mismatch`.
 *
 * @see Cochran (1954), Biometrics 10:101; DerSimonian & Laird (1986), Control Clin Trials 7:177;
 *   Higgins & Thompson (2002), Stat Med 21:1539; Hartung & Knapp (2001), Stat Med 20:1771; Wiksten,
 *   Rücker & Schwarzer (2016), Stat Med 35:2503, for the wider of the two; Welch (1951),
 *   Biometrika 38:330.
 *
 * @example
 * randomEffects([1, 3], [1, 1]).estimate // => 2
 */
export function randomEffects(
  estimates: readonly number[],
  standardErrors: readonly number[],
  { level = 0.95, degreesOfFreedom }: RandomEffectsOptions = {},
): RandomEffects {
  requireLevel(level)
  requireNumbers('The estimates', estimates, 'finite', 2)
  requireNumbers('The standard errors', standardErrors, 'positive', 2)
  requireSameLength('The estimates', estimates, 'the standard errors', standardErrors)
  if (degreesOfFreedom !== undefined) {
    requireNumbers('The degrees of freedom', degreesOfFreedom, 'positive', 2)
    requireSameLength('The estimates', estimates, 'the degrees of freedom', degreesOfFreedom)
  }
  const n = estimates.length
  // In units of the smallest error, so that no weight overflows.
  const unit = Math.min(...standardErrors)
  const y = estimates.map((estimate) => estimate / unit)
  const variances = standardErrors.map((error) => (error / unit) ** 2)
  const fixed = variances.map((v) => 1 / v)
  const total = sum(fixed)
  const q = spread(y, fixed)
  // Written so that two weights of which one vanishes leave nothing to divide by 0.
  const slack = sum(fixed.map((w) => w * (1 - w / total)))
  const tau = slack > 0 ? Math.max(0, (q - (n - 1)) / slack) : 0
  requireNumber('The spread of the estimates in units of their errors', tau, 'not negative')
  const random = variances.map((v) => 1 / (v + tau))
  const weight = sum(random)
  const mean = sum(random.map((w, i) => (w / weight) * y[i]!))
  const tail = (1 - level) / 2
  const shares = random.map((w) => w / weight)
  const likeKnown =
    degreesOfFreedom === undefined
      ? -normalQuantile(tail)
      : -studentTQuantile(tail, 1 / sum(shares.map((a, i) => a ** 2 / degreesOfFreedom[i]!)))
  const bySpread = -studentTQuantile(tail, n - 1) * Math.sqrt(spread(y, random) / (n - 1))
  const standardError = unit / Math.sqrt(weight)
  const half = Math.max(likeKnown, bySpread) * standardError
  const estimate = unit * mean
  return {
    estimate,
    lower: estimate - half,
    upper: estimate + half,
    level,
    n,
    standardError,
    q,
    p:
      degreesOfFreedom === undefined
        ? chiSquareTails(q, n - 1).upper
        : welchP(q, fixed, degreesOfFreedom),
    iSquared: q > n - 1 ? (q - (n - 1)) / q : 0,
    tauSquared: tau * unit ** 2,
    weights: shares,
  }
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0)

/** Weighted squares around the weighted mean. */
function spread(y: readonly number[], weights: readonly number[]): number {
  const total = sum(weights)
  const mean = sum(weights.map((w, i) => (w / total) * y[i]!))
  return sum(weights.map((w, i) => w * (y[i]! - mean) ** 2))
}

/** Welch's F from Q: larger errors of the errors make a large Q less surprising. */
function welchP(q: number, weights: readonly number[], df: readonly number[]): number {
  const k = weights.length
  const total = sum(weights)
  const loose = sum(weights.map((w, i) => (1 - w / total) ** 2 / df[i]!))
  const f = q / (k - 1) / (1 + ((2 * (k - 2)) / (k * k - 1)) * loose)
  return fTails(f, k - 1, (k * k - 1) / (3 * loose)).upper
}
