import type { Interval } from './interval.ts'
import { intervalScore } from './interval-score.ts'
import { logAccuracyRatio } from './log-accuracy-ratio.ts'
import { requireNumbers } from './special/check.ts'
import { wilsonInterval } from './wilson-interval.ts'

/** A locked prediction and what happened. */
export interface PredictedOutcome {
  readonly low: number
  readonly high: number
  /** Stated chance that the range holds, 0 to 1 exclusive. */
  readonly confidence: number
  readonly outcome: number
  /** The expected value, where one was stated. */
  readonly expected?: number | null
}

/** How well a set of predicted ranges held. */
export interface Calibration {
  readonly n: number
  readonly inside: number
  /** Share of outcomes inside, with Wilson's interval. */
  readonly share: Interval
  /** Mean of the stated confidences, to hold the share against. */
  readonly stated: number
  readonly meanIntervalScore: number
  /** Mean log accuracy ratio: above 0 too high on the whole. `null` where no pair is above 0. */
  readonly bias: number | null
  /** Predictions the bias is a mean of. */
  readonly biasN: number
}

/**
 * Calibration of predictions: how often the outcome fell inside, how wide and how far off they were.
 *
 * @param predictions At least 1, any order. An outcome on an end of the range is inside.
 * @param level       Confidence of the share's interval; default 0.95.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Gneiting & Raftery (2007), JASA 102:359; Tofallis (2015), J Oper Res Soc 66:1352; Wilson (1927),
 *   JASA 22:209.
 *
 * @example
 * calibration([{ low: 1, high: 3, confidence: 0.8, outcome: 2, expected: 2 }]).bias // => 0
 */
export function calibration(predictions: readonly PredictedOutcome[], level = 0.95): Calibration {
  requireNumbers(
    'The outcomes',
    predictions.map((p) => p.outcome),
    'finite',
    1,
  )
  const n = predictions.length
  let inside = 0
  let score = 0
  let stated = 0
  let ratio = 0
  let biasN = 0
  for (const { low, high, confidence, outcome, expected } of predictions) {
    score += intervalScore(low, high, outcome, confidence)
    stated += confidence
    if (outcome >= low && outcome <= high) inside++
    if (expected !== undefined && expected !== null && expected > 0 && outcome > 0) {
      ratio += logAccuracyRatio(expected, outcome)
      biasN++
    }
  }
  return {
    n,
    inside,
    share: wilsonInterval(inside, n, level),
    stated: stated / n,
    meanIntervalScore: score / n,
    bias: biasN === 0 ? null : ratio / biasN,
    biasN,
  }
}
