import { AppError } from '../errors.ts'
import { requireNumber, requireNumbers, requireSameLength } from './special/check.ts'

/** A CUSUM over single cases. */
export interface CaseCusum {
  /** Log-likelihood score of each case. */
  readonly scores: readonly number[]
  /** The statistic after each case, 0 or more. */
  readonly path: readonly number[]
  /** Zero-based index of the first case where the statistic reaches the limit; `null` if it never does. */
  readonly firstSignal: number | null
}

/**
 * Scores of one case for the risk-adjusted CUSUM.
 *
 * With the odds ratio R to be detected and the case's own risk p: an event scores `ln(R / (1 − p + R p))`,
 * no event `−ln(1 − p + R p)`.
 *
 * @param risk      Chance of the event for this case if all is as usual, 0 to 1.
 * @param oddsRatio Above 0, not 1: 2 looks for doubled odds, 0.5 for halved.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Steiner, Cook, Farewell & Treasure (2000), Biostatistics 1:441, eq. 2–3.
 *
 * @example
 * riskAdjustedScores(0, 2) // => { event: Math.LN2, noEvent: 0 }
 */
export function riskAdjustedScores(
  risk: number,
  oddsRatio: number,
): { readonly event: number; readonly noEvent: number } {
  requireNumber('The risk', risk, 'a share')
  requireOddsRatio(oddsRatio)
  const log = Math.log1p((oddsRatio - 1) * risk)
  return { event: Math.log(oddsRatio) - log, noEvent: 0 - log }
}

/**
 * Risk-adjusted CUSUM of single cases.
 *
 * `X_t = max(0, X_{t−1} + W_t)`, a signal where `X_t ≥ limit`. The path goes on after a signal; start again
 * from the next case once the cause has been looked into. It shows where to look, it does not judge anyone.
 *
 * @param events    `true` or 1 where the event happened, in the order of the cases; at least 1.
 * @param risks     Chance of the event for each case if all is as usual, 0 to 1.
 * @param options   `oddsRatio`, default 2; `limit`, above 0, default 4.5.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.length_mismatch`;
 *   `stats.impossible_outcome` where an event had risk 0 or its absence risk 1.
 *
 * @see Steiner, Cook, Farewell & Treasure (2000), Biostatistics 1:441.
 *
 * @example
 * riskAdjustedCusum([0, 1], [0.5, 0.5], { limit: 0.2 }).firstSignal // => 1
 */
export function riskAdjustedCusum(
  events: readonly (boolean | number)[],
  risks: readonly number[],
  options: { readonly oddsRatio?: number; readonly limit?: number } = {},
): CaseCusum {
  const { oddsRatio = 2, limit = 4.5 } = options
  requireOddsRatio(oddsRatio)
  requireNumber('The limit', limit, 'positive')
  requireSameLength('The list of events', events, 'the list of risks', risks)
  requireNumbers('The risks', risks, 'a share', 1)
  const scores = events.map((event, i) => {
    const happened = isEvent(event, i)
    if (risks[i] === (happened ? 0 : 1)) {
      throw new AppError(
        'stats.impossible_outcome',
        `Case ${i + 1} had ${happened ? 'the event at risk 0' : 'no event at risk 1'}.`,
        'Correct the risk or the outcome.',
        { index: i, risk: risks[i] },
      )
    }
    const { event: high, noEvent } = riskAdjustedScores(risks[i]!, oddsRatio)
    return happened ? high : noEvent
  })
  return accumulate(scores, limit)
}

/**
 * Observed minus expected events, case by case.
 *
 * @param events `true` or 1 where the event happened; at least 1.
 * @param risks  Chance of the event for each case, 0 to 1.
 * @returns Running total; above 0 means more events than expected so far.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.length_mismatch`.
 *
 * @see Lovegrove et al. (1997), Lancet 350:1128 (who plot its negative).
 *
 * @example
 * observedMinusExpected([1, 0], [0.5, 0.5]) // => [0.5, 0]
 */
export function observedMinusExpected(
  events: readonly (boolean | number)[],
  risks: readonly number[],
): number[] {
  requireSameLength('The list of events', events, 'the list of risks', risks)
  requireNumbers('The risks', risks, 'a share', 1)
  let total = 0
  return events.map((event, i) => {
    total += (isEvent(event, i) ? 1 : 0) - risks[i]!
    return total
  })
}

/**
 * Running sum of scores held at 0, and where it first reaches a limit.
 *
 * @see Page (1954), Biometrika 41:100.
 * @example
 * accumulate([1, -2, 1], 1).path // => [1, 0, 1]
 */
export function accumulate(scores: readonly number[], limit: number): CaseCusum {
  let x = 0
  const path = scores.map((w) => {
    x = Math.max(0, x + w)
    return x
  })
  // A lattice of scores may land a rounding error below the limit.
  const reached = path.findIndex((value) => value >= limit * (1 - 1e-12))
  return { scores, path, firstSignal: reached === -1 ? null : reached }
}

/**
 * Whether a case had the event.
 *
 * @throws AppError `stats.out_of_range` for anything but true, false, 0 and 1.
 * @example
 * isEvent(1, 0) // => true
 */
export function isEvent(event: boolean | number, index: number): boolean {
  if (event === true || event === 1) return true
  if (event === false || event === 0) return false
  throw new AppError(
    'stats.out_of_range',
    `Case ${index + 1} is ${event}; an event is 1, no event is 0.`,
    'Correct the outcome of this case.',
    { index, value: event },
  )
}

function requireOddsRatio(oddsRatio: number): void {
  requireNumber('The odds ratio', oddsRatio, 'positive')
  if (oddsRatio !== 1) return
  throw new AppError(
    'stats.no_difference',
    'An odds ratio of 1 is no change, so there is nothing to detect.',
    'Give the worsening (above 1) or improvement (below 1) to watch for.',
    { oddsRatio },
  )
}
