import type { Analysis, ChartKind } from '../stats/types.ts'
import { dateText, isRowNumber, valueText } from './format.ts'
import type { Bracket, ChartSpec, TestMark } from './spec.ts'

/** How each chart is called in a sentence. */
export const CHART_NAMES: Readonly<Record<ChartKind, string>> = {
  run: 'run chart',
  individuals: 'individuals chart',
  'moving-range': 'moving range chart',
  'xbar-s': 'X-bar chart with S',
  'xbar-r': 'X-bar chart with R',
  p: 'P chart',
  'p-prime': 'P′ chart',
  c: 'C chart',
  u: 'U chart',
  'u-prime': 'U′ chart',
  g: 'G chart',
  t: 'T chart',
  ewma: 'EWMA chart',
  cusum: 'CUSUM chart',
}

/** What each stage of a test is called under its tooth. */
export const MARK_WORDS: Readonly<Record<TestMark, string>> = {
  adopt: 'adopted',
  adapt: 'adapted',
  abandon: 'abandoned',
  waiting: 'to study',
  running: 'running',
  planned: 'planned',
}

/**
 * What the centre line of a chart is.
 *
 * @example
 * centerWord('run') // => 'median'
 */
export function centerWord(kind: ChartKind): string {
  return kind === 'run' ? 'median' : 'centre'
}

/**
 * The letter of the k-th signal: a, b, … z, aa, ab, …
 *
 * @param k Zero-based.
 *
 * @example
 * letterOf(1) // => 'b'
 * letterOf(26) // => 'aa'
 */
export function letterOf(k: number): string {
  const last = String.fromCharCode(97 + (k % 26))
  return k < 26 ? last : letterOf(Math.floor(k / 26) - 1) + last
}

/**
 * The values a chart writes with, chosen from all that is on it.
 *
 * @param spec The chart.
 */
export function valueTextOf(spec: Pick<ChartSpec, 'format' | 'analysis'>) {
  return valueText(spec.format, knownValues(spec.analysis))
}

/** The values of an analysis that are not missing. */
function knownValues(analysis: Analysis): number[] {
  const values: number[] = []
  for (const { value } of analysis.points) if (value !== null) values.push(value)
  return values
}

/**
 * Where an outcome fell against its prediction, in words.
 *
 * @param better Which way is better; `null`: neither.
 * @returns `null` without an outcome.
 *
 * @example
 * outcomeWord({ low: 60, high: 80, expected: 70, outcome: 74 }, 'up') // => 'as predicted'
 * outcomeWord({ low: 60, high: 80, expected: 70, outcome: 50 }, 'up') // => 'worse than predicted'
 */
export function outcomeWord(bracket: Bracket, better: 'up' | 'down' | null): string | null {
  const outcome = bracket.outcome ?? null
  if (outcome === null) return null
  if (outcome >= bracket.low && outcome <= bracket.high) return 'as predicted'
  const above = outcome > bracket.high
  if (better === null) return above ? 'above the prediction' : 'below the prediction'
  return above === (better === 'up') ? 'better than predicted' : 'worse than predicted'
}

/**
 * Each point in words, as a reader hears or sees it: date, value, centre, limits, signals by letter,
 * and why it is left out.
 *
 * @param spec The chart; its size does not matter.
 * @returns One sentence a point, gaps too.
 */
export function pointSentences(spec: Omit<ChartSpec, 'title'>): string[] {
  const words = valueTextOf(spec)
  return spec.analysis.points.map((_, index) => pointSentence(spec, index, words))
}

function pointSentence(
  spec: Pick<ChartSpec, 'analysis' | 'unitLabel'>,
  index: number,
  text: ReturnType<typeof valueText>,
): string {
  const { analysis } = spec
  const point = analysis.points[index]!
  const parts: string[] = []
  const when = dateText(point.at)
  const row = isRowNumber(point.at) ? `Row ${when}` : when
  if (point.value === null) parts.push(`${row}: no value`)
  else {
    const unit = spec.unitLabel ? ` ${spec.unitLabel}` : ''
    const of =
      point.numerator !== null && point.denominator !== null
        ? ` (${plain(point.numerator)} of ${plain(point.denominator)})`
        : ''
    parts.push(`${row}: ${text.value(point.value)}${unit}${of}`)
  }
  if (point.center !== null) {
    const limits: string[] = []
    if (point.lower !== null) limits.push(`lower limit ${text.center(point.lower)}`)
    if (point.upper !== null) limits.push(`upper limit ${text.center(point.upper)}`)
    const center = `${centerWord(analysis.kind)} ${text.center(point.center)}`
    parts.push([center, ...limits].join(', '))
  }
  if (point.signals.length > 0) {
    const letters = point.signals.map(letterOf)
    parts.push(`${letters.length === 1 ? 'signal' : 'signals'} ${listText(letters)}`)
  }
  if (point.leftOut !== null) parts.push(`left out: ${point.leftOut.replace(/\.$/, '')}`)
  return `${parts.join('; ')}.`
}

const plain = (value: number) => (Number.isInteger(value) ? String(value) : value.toPrecision(6))

/** Words in a row as a sentence has them: a, b and c. */
function listText(words: readonly string[]): string {
  if (words.length < 2) return words.join('')
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
