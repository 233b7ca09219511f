import { calibration } from '../stats/calibration.ts'
import type { Interval } from '../stats/interval.ts'
import { logAccuracyRatio } from '../stats/log-accuracy-ratio.ts'
import { meanAndSd } from '../stats/mean-and-sd.ts'
import { studentTQuantile } from '../stats/special/student-t.ts'
import type { JudgedPrediction } from './judged-predictions.ts'

/** Below this many predictions nothing is said about habits (common practice). */
const FEWEST_JUDGED = 10

/** How well some predictions held. */
export interface CalibrationSummary {
  readonly n: number
  readonly inside: number
  /** Share of outcomes inside, with Wilson's interval, and the mean of the stated confidences. */
  readonly share: Interval
  readonly stated: number
  /** Mean interval score in mean outcomes of each measure; `null` where those are all 0. */
  readonly score: number | null
  /** Mean log accuracy ratio: above 0 predicted too high. */
  readonly bias: number | null
  /** The same turned so that above 0 is too hopeful, with its 95 % interval; `null` below 2 predictions. */
  readonly optimism: {
    readonly mean: number
    readonly lower: number
    readonly upper: number
  } | null
}

/** What a score of each measure is divided by, so that units can be mixed. */
type Scales = ReadonlyMap<string, number>

/**
 * Coverage, interval score and bias of judged predictions.
 *
 * A score has the unit of its measure, so it is divided by the mean size of that measure's outcomes.
 * Nobody who predicts chooses that, and one small value cannot outweigh the rest, as it would if each
 * score were divided by its own expected value.
 *
 * @param scales Of a larger set that these belong to, so that groups of it can be compared.
 * @returns `null` for no prediction.
 * @see Gneiting & Raftery (2007), JASA 102:359; Tofallis (2015), J Oper Res Soc 66:1352; Wilson (1927), JASA 22:209.
 *
 * @example
 * calibrationSummary([]) // => null
 */
export function calibrationSummary(
  predictions: readonly JudgedPrediction[],
  scales: Scales = scalesOf(predictions),
): CalibrationSummary | null {
  if (predictions.length === 0) return null
  const { n, inside, share, stated, bias } = calibration(predictions)
  const relative = predictions.flatMap((p) => {
    const scale = scales.get(measureOf(p)) ?? 0
    if (scale === 0) return []
    const { low, high, outcome, confidence } = p
    return [{ low: low / scale, high: high / scale, outcome: outcome / scale, confidence }]
  })
  return {
    n,
    inside,
    share,
    stated,
    score: relative.length === 0 ? null : calibration(relative).meanIntervalScore,
    bias,
    optimism: optimismOf(predictions),
  }
}

const measureOf = ({ projectId, measureName }: JudgedPrediction) => `${projectId} ${measureName}`

function scalesOf(predictions: readonly JudgedPrediction[]): Scales {
  const outcomes = new Map<string, number[]>()
  for (const p of predictions) {
    const own = outcomes.get(measureOf(p))
    if (own === undefined) outcomes.set(measureOf(p), [Math.abs(p.outcome)])
    else own.push(Math.abs(p.outcome))
  }
  return new Map(
    [...outcomes].map(([key, own]) => [key, own.reduce((a, b) => a + b, 0) / own.length]),
  )
}

function optimismOf(predictions: readonly JudgedPrediction[]): CalibrationSummary['optimism'] {
  const hopes = predictions
    .filter((p) => p.better !== null && p.expected > 0 && p.outcome > 0)
    .map((p) => logAccuracyRatio(p.expected, p.outcome) * (p.better === 'up' ? 1 : -1))
  if (hopes.length < 2) return null
  const { n, mean, sd } = meanAndSd(hopes)
  const half = (-studentTQuantile(0.025, n - 1) * sd) / Math.sqrt(n)
  return { mean, lower: mean - half, upper: mean + half }
}

/** Predictions of one step of the chains, or of one stretch of time. */
export interface CalibrationGroup {
  readonly label: string
  readonly n: number
  readonly inside: number
  /** Width of the range over the expected value, on average; `null` where none is above 0. */
  readonly width: number | null
  readonly score: number | null
  readonly bias: number | null
}

/** By place in the chain: learning shows as ranges that narrow and still hold. */
export function byStep(predictions: readonly JudgedPrediction[]): CalibrationGroup[] {
  return grouped(
    predictions,
    (p) => `Test ${p.step} of its chain`,
    (p) => p.step,
  )
}

/** By quarter of the year in which the prediction was locked. */
export function byQuarter(predictions: readonly JudgedPrediction[]): CalibrationGroup[] {
  const quarter = (p: JudgedPrediction) => Math.ceil(Number(p.lockedAt.slice(5, 7)) / 3)
  const year = (p: JudgedPrediction) => Number(p.lockedAt.slice(0, 4))
  return grouped(
    predictions,
    (p) => `${year(p)}, quarter ${quarter(p)}`,
    (p) => year(p) * 4 + quarter(p),
  )
}

function grouped(
  predictions: readonly JudgedPrediction[],
  labelOf: (p: JudgedPrediction) => string,
  keyOf: (p: JudgedPrediction) => number,
): CalibrationGroup[] {
  const scales = scalesOf(predictions)
  const groups = new Map<number, JudgedPrediction[]>()
  for (const p of predictions) groups.set(keyOf(p), [...(groups.get(keyOf(p)) ?? []), p])
  return [...groups]
    .sort(([a], [b]) => a - b)
    .map(([, members]) => {
      const { n, inside, score, bias } = calibrationSummary(members, scales)!
      const widths = members.filter((p) => p.expected > 0).map((p) => (p.high - p.low) / p.expected)
      const width = widths.length === 0 ? null : widths.reduce((a, b) => a + b, 0) / widths.length
      return { label: labelOf(members[0]!), n, inside, width, score, bias }
    })
}

export type AdviceKind =
  | 'none'
  | 'too-few'
  | 'too-narrow'
  | 'too-wide'
  | 'hopeful'
  | 'cautious'
  | 'holds'

/** One piece of advice from the figures: narrow ranges before bias, since they mislead most. */
export function adviceKind(summary: CalibrationSummary | null): AdviceKind {
  if (summary === null) return 'none'
  const { n, share, stated, optimism } = summary
  if (n < FEWEST_JUDGED) return 'too-few'
  if (share.upper < stated) return 'too-narrow'
  if (optimism !== null && optimism.lower > 0) return 'hopeful'
  if (optimism !== null && optimism.upper < 0) return 'cautious'
  if (share.lower > stated) return 'too-wide'
  return 'holds'
}

const percent = (share: number) => `${Math.round(share * 100)} %`
/** A log ratio as a factor in percent. */
const byFactor = (log: number) => percent(Math.exp(Math.abs(log)) - 1)

/** The advice as one sentence, made from the figures. */
export function adviceText(summary: CalibrationSummary | null): string {
  const kind = adviceKind(summary)
  if (summary === null || kind === 'none')
    return 'No locked prediction has an outcome yet. The first appears here when its test is over.'
  const { n, inside, stated, optimism } = summary
  const held = `${inside} of ${n} outcomes fell inside the stated range`
  switch (kind) {
    case 'too-few':
      return `${held}: too few to tell. From ${FEWEST_JUDGED} predictions on, this page says more.`
    case 'too-narrow':
      return `${held}, where ${percent(stated)} was stated: the ranges are too narrow, so make the next ones wider.`
    case 'too-wide':
      return `${held}, where ${percent(stated)} was stated: the ranges are wider than they need be, so the next ones can be narrower.`
    case 'hopeful':
      return `The predictions are steadily optimistic, by ${byFactor(optimism!.mean)} on average: expect a little less of the next change.`
    case 'cautious':
      return `The outcomes are steadily better than predicted, by ${byFactor(optimism!.mean)} on average: expect a little more of the next change.`
    case 'holds':
      return `${held}, where ${percent(stated)} was stated: the figures do not contradict the stated confidence.`
  }
}
