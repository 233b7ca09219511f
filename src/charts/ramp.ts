import { AppError } from '../errors.ts'
import { drawBracket } from './bracket-marks.ts'
import { rangeText, valueText } from './format.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import type { ChartTest, ToothTarget, ValueFormat, ValueScale } from './spec.ts'
import { shorten, textWidth } from './text-width.ts'
import { drawTooth, NOTCH_DEPTH, TOOTH_HEIGHT } from './tooth-rail.ts'
import { valueAxis } from './value-axis.ts'
import { MARK_WORDS, outcomeWord } from './words.ts'

/** One test of a ramp. */
interface RampTest extends ChartTest {
  /** Id of the test it builds on; `null` for the first. */
  readonly buildsOn: string | null
}

export interface RampSpec {
  readonly title: string
  /** In order of number. */
  readonly tests: readonly RampTest[]
  readonly format: ValueFormat
  /** Needed where `format` is a function; else the format says it. */
  readonly scale?: ValueScale
  readonly unitLabel?: string
  readonly better?: 'up' | 'down' | null
  readonly goal?: number | null
  readonly width: number
  readonly textScale?: number
}

export interface Ramp extends Picture {
  readonly teeth: readonly ToothTarget[]
  /** One sentence a test, in order: the ramp in words. */
  readonly sentences: readonly string[]
}

/**
 * A chain of tests of one idea: one step a test in order, its prediction against its outcome on one
 * axis, its tooth below, and a link from the test it builds on. A test that nothing builds on and
 * that was abandoned ends in a bar, and stays where it was.
 *
 * @param spec What to draw; at least one test.
 * @throws AppError `chart.no_tests`.
 */
export function layOutRamp(spec: RampSpec): Ramp {
  const { tests, width, textScale = 1 } = spec
  if (tests.length === 0) {
    throw new AppError('chart.no_tests', 'There is no test to draw.', 'Plan a first test.')
  }
  const { text, unit } = textSizes(width, textScale)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const values = tests.flatMap(({ bracket }) =>
    bracket ? [bracket.low, bracket.high, bracket.expected, bracket.outcome] : [],
  )
  const known = [...values, spec.goal].filter((v) => v !== null && v !== undefined)
  const words = valueText(spec.format, known)
  const hasValues = known.length > 0
  const plotHeight = hasValues ? Math.min(220 * unit, Math.max(130 * unit, width * 0.2)) : 0
  const axis = valueAxis(
    known,
    spec.scale ?? spec.format,
    Math.max(2, Math.round(plotHeight / (48 * unit))),
  )
  const tickTexts = hasValues ? axis.ticks.map((tick) => words.axis(tick, axis.step)) : []
  const left = Math.ceil(Math.max(0, ...tickTexts.map((t) => textWidth(t, text))) + 12 * unit)
  const right = width - 8 * unit
  const top = 12 * unit
  const bottom = top + plotHeight
  const y = (value: number) => bottom - ((value - axis.low) / (axis.high - axis.low)) * plotHeight
  const step = (right - left) / tests.length
  const xs = tests.map((_, i) => left + (i + 0.5) * step)
  const toothWidth = Math.min(44 * unit, step * 0.7)
  const railY = bottom + (TOOTH_HEIGHT + 14) * unit

  let grid = ''
  for (const tick of hasValues ? axis.ticks : [])
    grid += `M${left},${tenth(y(tick))}H${tenth(right)}`
  pen.path('grid', grid)
  for (const [i, label] of tickTexts.entries()) {
    pen.text('tick-text', label, left - 8 * unit, y(axis.ticks[i]!) + text * 0.35, text, 'end')
  }
  const half = Math.min(10 * unit, step * 0.35)
  for (const [i, test] of tests.entries()) {
    if (test.bracket) drawBracket(pen, test.bracket, xs[i]!, half, y)
  }
  for (const [i, { bracket }] of tests.entries()) {
    const outcome = bracket?.outcome ?? null
    if (outcome !== null) pen.circle('outcome', xs[i]!, y(outcome), 6.5 * unit)
  }
  for (const [i, test] of tests.entries()) {
    drawTooth(pen, test.mark, { x: xs[i]! - toothWidth / 2, width: toothWidth, rail: railY, unit })
  }
  pen.path('rail', `M${tenth(left)},${tenth(railY)}H${tenth(right)}`)

  const notch = tests.some((t) => t.mark === 'abandon') ? NOTCH_DEPTH * unit : 0
  const row = text * 1.35
  const labels = tests.map((t) => `${t.number} ${MARK_WORDS[t.mark]}`)
  const wordy = labels.every((label) => textWidth(label, text) <= step - text * 0.4)
  for (const [i, test] of tests.entries()) {
    const label = wordy ? labels[i]! : shorten(String(test.number), step, text)
    pen.text('tooth-text', label, xs[i]!, railY + notch + row, text, 'middle')
  }
  const linksTop = railY + notch + row + 8 * unit
  const deepest = drawLinks()
  return {
    width,
    height: Math.ceil(linksTop + deepest + 6 * unit),
    unit,
    marks,
    teeth: tests.map((test, i) => ({
      id: test.id,
      number: test.number,
      mark: test.mark,
      hit: {
        x: tenth(xs[i]! - step / 2),
        y: tenth(railY - TOOTH_HEIGHT * 1.2 * unit),
        width: tenth(step),
        height: tenth(TOOTH_HEIGHT * 1.2 * unit + notch + row + 4 * unit),
      },
      text: sentenceOf(test),
    })),
    sentences: tests.map(sentenceOf),
  }

  /** Arcs from each test to those built on it: shallow to the next one, deeper to later ones. */
  function drawLinks(): number {
    const indexOf = new Map(tests.map((t, i) => [t.id, i]))
    const builtOn = new Set(tests.map((t) => t.buildsOn))
    let depth = 0
    for (const [i, test] of tests.entries()) {
      const from = test.buildsOn === null ? undefined : indexOf.get(test.buildsOn)
      if (from === undefined || from === i) continue
      const reach = Math.abs(i - from)
      const drop = Math.min(44, 9 + 7 * (reach - 1)) * unit
      depth = Math.max(depth, drop)
      const [a, b] = [xs[from]! + 4 * unit, xs[i]! - 4 * unit]
      const r = Math.min(6 * unit, drop, Math.abs(b - a) / 2)
      const s = 4 * unit
      const low = tenth(linksTop + drop)
      const ctrl = (x: number, y1: number) => `${tenth(x)},${tenth(y1)}`
      pen.path(
        'link',
        `M${ctrl(a, linksTop)}V${tenth(linksTop + drop - r)}Q${ctrl(a, linksTop + drop)} ${ctrl(a + r, linksTop + drop)}H${tenth(b - r)}Q${tenth(b)},${low} ${ctrl(b, linksTop + drop - r)}V${tenth(linksTop)}M${ctrl(b - s, linksTop + s)}L${ctrl(b, linksTop)}L${ctrl(b + s, linksTop + s)}`,
      )
    }
    for (const [i, test] of tests.entries()) {
      if (test.mark !== 'abandon' || builtOn.has(test.id)) continue
      const bar = 7 * unit
      depth = Math.max(depth, 3 * unit)
      pen.path(
        'dead-end',
        `M${tenth(xs[i]! - bar)},${tenth(linksTop + 2 * unit)}H${tenth(xs[i]! + bar)}`,
      )
    }
    return depth
  }

  function sentenceOf(test: RampTest): string {
    const dates = test.from === null ? '' : `, ${rangeText(test.from, test.to ?? test.from)}`
    const parent = tests.find((t) => t.id === test.buildsOn)
    let s = `Test ${test.number}, ${MARK_WORDS[test.mark]}: ${test.label}${dates}`
    if (parent !== undefined) s += `; builds on test ${parent.number}`
    if (test.bracket) {
      s += `; predicted ${words.center(test.bracket.low)} to ${words.center(test.bracket.high)}`
      const outcome = test.bracket.outcome ?? null
      if (outcome !== null) {
        s += `, came out at ${words.center(outcome)}, ${outcomeWord(test.bracket, spec.better ?? null)}`
      }
    }
    return `${s}.`
  }
}
