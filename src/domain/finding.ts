import type { PredictionOutcome, Summary, Verdict } from './outcome.ts'
import type { Measure } from './record.ts'
import { formatNumber, formatValue } from './value-text.ts'

/**
 * What a test found about one measure, in sentences made from figures: the same ones on the page, on
 * paper and in the API. They compare; how sure the comparison is they do not say, and say so.
 */
export interface FindingText {
  /** One line: measure and verdict. */
  readonly headline: string
  /** Outcome and prediction, before, the test before. */
  readonly sentences: readonly string[]
  /** Reasons to be careful with it, most important first. */
  readonly limits: readonly string[]
}

/** Below this many observations the finding says that it rests on few (common practice). */
const FEW = 8

/** @returns The finding of one prediction, as text. */
export function findingText(o: PredictionOutcome): FindingText {
  const { measure, prediction, outcome } = o
  const show = (value: number | null) => formatValue(measure, value)
  const range = `${show(prediction.low)} to ${show(prediction.high)}`
  const sure = `${Math.round(prediction.confidence * 100)} % sure`

  if (outcome.value === null)
    return {
      headline: `${measure.name}: nothing observed yet.`,
      sentences: [`The team said ${range} (${sure}).`],
      limits: [],
    }

  const sentences = [`${what(measure, outcome)}; the team said ${range} (${sure}).`]
  if (o.before.value !== null)
    sentences.push(
      `Before the test it was ${show(o.before.value)} (${count(o.before.n)}, ${days(o.before)}).`,
    )
  if (o.previous !== null)
    sentences.push(`In test ${o.previous.number} it was ${show(o.previous.outcome.value)}.`)

  const limits: string[] = []
  if (o.datedBeforeLock > 0)
    limits.push(
      `${o.datedBeforeLock === outcome.n ? 'All' : `${o.datedBeforeLock} of`} ${outcome.n} observations are dated before the prediction was locked, so it may rest on hindsight.`,
    )
  if (outcome.n < FEW)
    limits.push(
      outcome.n === 1
        ? 'This is a single observation: it can differ from the next one by chance alone.'
        : `These are only ${outcome.n} observations: a difference this page shows can be chance alone.`,
    )
  if (o.before.value === null && o.previous === null)
    limits.push('There are no data from before the test, so nothing says whether anything changed.')
  return { headline: `${measure.name}: ${VERDICT[o.verdict ?? 'inside']}`, sentences, limits }
}

const VERDICT: Readonly<Record<Verdict, string>> = {
  inside: 'came out as predicted.',
  better: 'came out better than predicted.',
  worse: 'came out worse than predicted.',
  above: 'came out above the predicted range.',
  below: 'came out below the predicted range.',
}

function what(measure: Measure, s: Summary): string {
  const value = formatValue(measure, s.value)
  const label = measure.unitLabel.trim()
  if (measure.dataKind === 'classified')
    return `${formatNumber(s.numerator ?? 0)} of ${formatNumber(s.denominator ?? 0)}${label === '' ? '' : ` ${label}`} (${value})`
  if (measure.dataKind === 'rates')
    return `${formatNumber(s.numerator ?? 0)}${label === '' ? '' : ` ${label}`} in ${formatNumber(s.denominator ?? 0)}, that is ${value}${measure.per === 1 ? '' : ` per ${formatNumber(measure.per)}`}`
  const unit = label === '' || measure.valueFormat === 'duration' ? '' : ` ${label}`
  return s.n === 1 ? `It was ${value}${unit}` : `The mean of ${count(s.n)} was ${value}${unit}`
}

const count = (n: number) => (n === 1 ? '1 observation' : `${formatNumber(n)} observations`)
const days = (s: Summary) => (s.from === s.to ? `${s.from}` : `${s.from} to ${s.to}`)
