import { scaleLog } from 'd3-scale'
import { drawBracket } from './bracket-marks.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import { textWidth } from './text-width.ts'

/** A prediction in units of its own outcome: 1 is what happened. All above 0. */
interface RelativeRange {
  readonly step: number
  readonly low: number
  readonly expected: number
  readonly high: number
}

export interface ClosingInSpec {
  readonly ranges: readonly RelativeRange[]
  readonly width: number
  /** What a step is: a test of its chain (default), or a round of a workshop. */
  readonly stepName?: 'test' | 'round'
}

/** Round factors for the axis. */
const FACTORS = [1 / 8, 1 / 4, 1 / 2, 2 / 3, 1, 1.5, 2, 4, 8]
const FACTOR_WORDS = ['⅛', '¼', '½', '⅔', '1', '1½', '2', '4', '8']

/**
 * Predictions closing in on outcomes: each range over its own outcome on a log axis, side by side
 * within its place in the chain. A range that crosses the line held; learning is a funnel.
 *
 * @param spec At least one range, every value above 0; width from 240 pixels.
 * @returns Shapes in painting order.
 */
export function layOutClosingIn({ ranges, width, stepName = 'test' }: ClosingInSpec): Picture {
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const plotHeight = Math.min(260 * unit, Math.max(170 * unit, width * 0.3))
  const top = 10 * unit
  const bottom = top + plotHeight
  const furthest = Math.max(
    1.5,
    ...ranges.flatMap((r) => [r.low, r.expected, r.high].map((v) => Math.max(v, 1 / v))),
  )
  // Very wide ranges run out of the picture; the words above it say how many held.
  const reach = Math.min(10, furthest * 1.08)
  const scale = scaleLog([1 / reach, reach], [bottom, top]).clamp(true)
  const y = (value: number) => tenth(scale(value))
  const shown = FACTORS.flatMap((f, i) =>
    f >= 1 / reach && f <= reach ? [{ factor: f, word: FACTOR_WORDS[i]! }] : [],
  )
  const left = Math.ceil(Math.max(...shown.map(({ word }) => textWidth(word, text))) + 14 * unit)
  const right = width - 8 * unit
  let grid = ''
  for (const { factor } of shown) if (factor !== 1) grid += `M${left},${y(factor)}H${tenth(right)}`
  pen.path('grid', grid)
  for (const { factor, word } of shown)
    pen.text('tick-text', word, left - 8 * unit, y(factor) + text * 0.35, text, 'end')

  const steps = [...new Set(ranges.map((r) => r.step))].sort((a, b) => a - b)
  const column = (right - left) / steps.length
  pen.path('center', `M${left},${y(1)}H${tenth(right)}`)
  for (const [k, step] of steps.entries()) {
    const own = ranges.filter((r) => r.step === step)
    const room = (column * 0.86) / own.length
    const half = Math.min(8 * unit, room * 0.4)
    const first = left + column * (k + 0.5) - ((own.length - 1) * Math.min(room, 24 * unit)) / 2
    for (const [i, range] of own.entries())
      drawBracket(pen, range, first + i * Math.min(room, 24 * unit), half, y)
    if (k > 0) {
      const border = tenth(left + column * k)
      pen.path('phase-border', `M${border},${top}V${tenth(bottom)}`)
    }
    const words = [`${stepName} ${step}`, String(step)]
    const word = (stepName === 'test' ? [`test ${step} of its chain`, ...words] : words).find(
      (w) => textWidth(w, text) < column - 6 * unit,
    )
    pen.text(
      'tick-text',
      word ?? '',
      left + column * (k + 0.5),
      bottom + text * 1.4,
      text,
      'middle',
    )
  }
  return { width, height: Math.ceil(bottom + text * 2), unit, marks }
}
