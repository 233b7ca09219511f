import { AppError } from '../errors.ts'
import { accumulate, type CaseCusum, isEvent } from './risk-adjusted-cusum.ts'
import { requireNumber, requireNumbers, requireWork } from './special/check.ts'

/** Scores of the Bernoulli CUSUM. */
export interface BernoulliScores {
  readonly event: number
  readonly noEvent: number
  /** The reference value `r1 / r2`, between p0 and p1: scores of `1 − reference` and `−reference` draw the same chart. */
  readonly reference: number
}

/**
 * Log-likelihood scores of the Bernoulli CUSUM for a change of a proportion.
 *
 * An event scores `ln(p1 / p0)`, no event `ln((1 − p1) / (1 − p0))`.
 *
 * @param p0 Proportion if all is as usual, above 0 and below 1.
 * @param p1 Proportion to detect, above 0 and below 1, not p0.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.no_difference`.
 *
 * @see Reynolds & Stoumbos (1999), J Qual Technol 31:87.
 *
 * @example
 * bernoulliScores(0.01, 0.02).reference // => 0.0144353447045
 */
export function bernoulliScores(p0: number, p1: number): BernoulliScores {
  for (const [name, p] of [
    ['The usual proportion', p0],
    ['The proportion to detect', p1],
  ] as const) {
    requireNumber(name, p, 'positive')
    requireNumber(`One less ${name.toLowerCase()}`, 1 - p, 'positive')
  }
  if (p0 === p1) {
    throw new AppError(
      'stats.no_difference',
      `Both proportions are ${p0}, so there is nothing to detect.`,
      'Give the proportion that would matter.',
      { p0, p1 },
    )
  }
  const event = Math.log(p1 / p0)
  const noEvent = Math.log1p(-p1) - Math.log1p(-p0)
  return { event, noEvent, reference: -noEvent / (event - noEvent) }
}

/**
 * Bernoulli CUSUM of single cases at one usual proportion.
 *
 * `X_t = max(0, X_{t−1} + score)`, a signal where `X_t ≥ limit`. The path goes on after a signal.
 *
 * @param events  `true` or 1 where the event happened, in the order of the cases; at least 1.
 * @param options `p0` usual proportion, `p1` proportion to detect, `limit` above 0.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.no_difference`.
 *
 * @see Reynolds & Stoumbos (1999), J Qual Technol 31:87.
 *
 * @example
 * bernoulliCusum([0, 1, 1], { p0: 0.1, p1: 0.2, limit: 1.3 }).firstSignal // => 2
 */
export function bernoulliCusum(
  events: readonly (boolean | number)[],
  options: { readonly p0: number; readonly p1: number; readonly limit: number },
): CaseCusum {
  const { event, noEvent } = bernoulliScores(options.p0, options.p1)
  requireNumber('The limit', options.limit, 'positive')
  requireNumbers('The events', events.map(Number), 'finite', 1)
  const scores = events.map((e, i) => (isEvent(e, i) ? event : noEvent))
  return accumulate(scores, options.limit)
}

/**
 * Average number of cases to a signal of a Bernoulli CUSUM on a lattice, exactly.
 *
 * An event adds `step`, no event takes 1 off, never below 0; a signal at `limit` or more. The chain is
 * solved from the top down: the wait at level s is linear in the wait at s − 1, without subtraction.
 *
 * @param step  Whole, at least 1: `m − 1` for a reference value of 1 / m.
 * @param limit Whole, at least 1.
 * @param p     True proportion of events, above 0 and at most 1.
 * @param start Level to start from, whole, 0 to limit − 1; default 0.
 * @returns Cases, the signalling one included.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.too_many_points`.
 *
 * @see Reynolds & Stoumbos (1999), J Qual Technol 31:87; Brook & Evans (1972), Biometrika 59:539.
 *
 * @example
 * bernoulliCusumRunLength(9, 15, 0.05) // => 116.772045263
 */
export function bernoulliCusumRunLength(step: number, limit: number, p: number, start = 0): number {
  requireNumber('The step', step, 'a whole count')
  requireNumber('The step', step, 'positive')
  requireNumber('The limit', limit, 'a whole count')
  requireNumber('The limit', limit, 'positive')
  requireNumber('The proportion', p, 'a share')
  requireNumber('The proportion', p, 'positive')
  requireNumber('The start', start, 'a whole count')
  requireNumber('The room above the start', limit - start, 'positive')
  requireWork(limit * Math.min(step, limit), 'Round the scores to a coarser lattice.')
  // wait(s) = add[s] + (1 - drop[s]) wait(s - 1); a level s' steps up is a chain of these.
  const add = new Float64Array(limit)
  const drop = new Float64Array(limit)
  for (let s = limit - 1; s >= 0; s--) {
    let up = 0
    let gone = 1
    if (s + step < limit) {
      // wait(s + step) = up + (1 - gone) wait(s).
      gone = 0
      let kept = 1
      for (let j = s + step; j > s; j--) {
        up += kept * add[j]!
        gone += kept * drop[j]!
        kept *= 1 - drop[j]!
      }
    }
    const leave = s === 0 ? p * gone : 1 - p + p * gone
    add[s] = (1 + p * up) / leave
    drop[s] = (p * gone) / leave
  }
  let wait = add[0]!
  for (let s = 1; s <= start; s++) wait = add[s]! + (1 - drop[s]!) * wait
  return wait
}
