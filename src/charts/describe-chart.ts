import { dateText, rangeText, readableDates, type ValueText } from './format.ts'
import type { ChartSpec, ChartTest } from './spec.ts'
import { CHART_NAMES, centerWord, letterOf, MARK_WORDS, outcomeWord, valueTextOf } from './words.ts'

export interface ChartDescription {
  /** What chart, of what, how many points, from when to when, which way is better, the goal. */
  readonly opening: string
  /** Centre, dates and limits of each phase. */
  readonly phases: readonly string[]
  /** The sentence each letter heads. */
  readonly signals: readonly { readonly letter: string; readonly text: string }[]
  readonly tests: readonly { readonly id: string; readonly text: string }[]
  readonly events: readonly string[]
  /** Fallbacks and warnings of the analysis. */
  readonly notes: readonly string[]
  /** All of it as running text. */
  readonly text: string
}

/**
 * The chart in words: everything the picture shows, for those who do not see it.
 *
 * @param spec The chart; its size does not matter.
 */
export function describeChart(spec: ChartSpec): ChartDescription {
  const { analysis } = spec
  const words = valueTextOf(spec)
  const opening = openingOf(spec, words)
  const phases = analysis.phases.map((_, k) => phaseSentence(spec, k, words))
  const signals = analysis.signals.map((signal, k) => ({
    letter: letterOf(k),
    text: readableDates(signal.text),
  }))
  const tests = (spec.tests ?? []).map((test) => ({
    id: test.id,
    text: testSentence(test, spec, words),
  }))
  const events = (spec.annotations ?? []).map((note) => `${dateText(note.at)}: ${note.text}`)
  const notes = analysis.notes.map((note) => readableDates(note.text))
  const signalText =
    signals.length === 0
      ? analysis.ruleSet === 'none'
        ? ['No rules are applied.']
        : ['No signals.']
      : signals.map(({ letter, text }) => `Signal ${letter}: ${text}`)
  const text = [
    opening,
    ...phases,
    ...signalText,
    ...tests.map((t) => t.text),
    ...events.map(closed),
    ...notes,
  ].join(' ')
  return { opening, phases, signals, tests, events, notes, text }
}

const closed = (sentence: string) => (/[.!?]$/.test(sentence) ? sentence : `${sentence}.`)

function openingOf(spec: ChartSpec, words: ValueText): string {
  const { points, kind } = spec.analysis
  const name = CHART_NAMES[kind]
  const missing = points.filter((p) => p.value === null).length
  const leftOut = points.filter((p) => p.leftOut !== null).length
  const unit = spec.unitLabel ? ` ${spec.unitLabel}` : ''
  let text = `${name[0]!.toUpperCase()}${name.slice(1)} of “${spec.title}”: ${count(points.length, 'point')}`
  if (points.length > 0) text += `, ${rangeText(points[0]!.at, points.at(-1)!.at)}`
  if (missing > 0) text += `, ${missing} without a value`
  if (leftOut > 0) text += `, ${leftOut} left out`
  text += '.'
  if (spec.better) text += ` Better is ${spec.better}.`
  const goal = spec.goal ?? null
  if (goal !== null) text += ` The goal is ${words.center(goal)}${unit}.`
  return text
}

function phaseSentence(spec: ChartSpec, k: number, words: ValueText): string {
  const { analysis } = spec
  const phase = analysis.phases[k]!
  const name = analysis.phases.length === 1 ? '' : `Phase ${k + 1}, `
  const range = rangeText(phase.from, phase.to)
  const center = phase.center === null ? 'none' : words.center(phase.center)
  let text = `${name}${range}: ${centerWord(analysis.kind)} ${center}`
  const limits = limitsOf(spec, k, words)
  if (limits !== null) text += `, ${phase.limits === 'trial' ? 'trial ' : ''}limits ${limits}`
  if (phase.frozenThrough !== null) {
    text += `, from the points up to ${dateText(phase.frozenThrough)} and carried forward`
  }
  text += '.'
  return phase.reason ? `${text} ${closed(phase.reason)}` : text
}

/** `null`: no limits. Limits that step with the denominators are given as the widest they get. */
function limitsOf(spec: ChartSpec, k: number, words: ValueText): string | null {
  const own = spec.analysis.points.filter((p) => p.phase === k)
  const lower = own.flatMap((p) => (p.lower === null ? [] : [p.lower]))
  const upper = own.flatMap((p) => (p.upper === null ? [] : [p.upper]))
  if (lower.length === 0 && upper.length === 0) return null
  const ends = (values: readonly number[]) => {
    const low = words.center(Math.min(...values))
    const high = words.center(Math.max(...values))
    return low === high ? low : `${low} to ${high}`
  }
  if (lower.length === 0) return `above at ${ends(upper)}`
  if (upper.length === 0) return `below at ${ends(lower)}`
  const varies = new Set(upper).size > 1 || new Set(lower).size > 1
  return varies
    ? `below at ${ends(lower)} and above at ${ends(upper)}`
    : `${ends(lower)} to ${ends(upper)}`
}

function testSentence(test: ChartTest, spec: ChartSpec, words: ValueText): string {
  const dates = test.from === null ? '' : `, ${rangeText(test.from, test.to ?? test.from)}`
  let text = `Test ${test.number}, ${MARK_WORDS[test.mark]}: ${test.label}${dates}`
  const bracket = test.bracket
  if (bracket) {
    text += `; predicted ${words.center(bracket.low)} to ${words.center(bracket.high)}`
    if (bracket.expected !== null) text += `, expected ${words.center(bracket.expected)}`
    const outcome = bracket.outcome ?? null
    if (outcome !== null) {
      text += `; came out at ${words.center(outcome)}, ${outcomeWord(bracket, spec.better ?? null)}`
    }
  }
  return closed(text)
}

const count = (n: number, noun: string) => `${n} ${noun}${n === 1 ? '' : 's'}`
