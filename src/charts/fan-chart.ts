import { drawBracket } from './bracket-marks.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import type { ValueFormat } from './spec.ts'
import { textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

/** The middle 80 % of what the mean of the first t points comes to, t = 1, 2, … */
interface FanBand {
  readonly lower: readonly number[]
  readonly upper: readonly number[]
}

export interface FanSpec {
  /** Points before the test, oldest first, in the chart's unit; may be empty. */
  readonly recent: readonly number[]
  readonly center: number
  readonly lower: number | null
  readonly upper: number | null
  readonly bracket: {
    readonly low: number
    readonly expected: number
    readonly high: number
  } | null
  /** If the prediction holds; and if nothing changes. As long as each other, at least 1. */
  readonly predicted: FanBand
  readonly unchanged: FanBand
  /** Times worth marking, in points after the change, such as `half` and `9 in 10`. */
  readonly ticks: readonly { readonly at: number; readonly text: string }[]
  /** What a point is: `week`. */
  readonly word: string
  readonly format: ValueFormat & ((value: number) => string)
  readonly width: number
}

/**
 * What may come after a test begins, beside what came before: two fans on the measure's own axis.
 * Each holds 8 in 10 of the means of the points so far, so both narrow; where they part, the data
 * can tell a real change from none. The prediction's bracket stands at the end.
 *
 * @param spec What to draw; width from 240 pixels.
 * @returns Shapes in painting order.
 */
export function layOutFan(spec: FanSpec): Picture {
  const { recent, predicted, unchanged, bracket, width } = spec
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const values = [
    ...recent,
    spec.center,
    ...(spec.lower === null ? [] : [spec.lower]),
    ...(spec.upper === null ? [] : [spec.upper]),
    ...(bracket === null ? [] : [bracket.low, bracket.high]),
    ...predicted.lower,
    ...predicted.upper,
    ...unchanged.lower,
    ...unchanged.upper,
  ].filter(Number.isFinite)
  const plotHeight = Math.min(230 * unit, Math.max(150 * unit, width * 0.3))
  const axis = valueAxis(values, spec.format, Math.max(3, Math.round(plotHeight / (52 * unit))))
  const tickTexts = axis.ticks.map((tick) => spec.format(tick))
  const left = Math.ceil(Math.max(...tickTexts.map((t) => textWidth(t, text))) + 12 * unit)
  const right = width - 26 * unit
  const row = text * 1.35
  const top = row * 1.4
  const bottom = top + plotHeight
  const y = (value: number) =>
    tenth(bottom - ((value - axis.low) / (axis.high - axis.low)) * plotHeight)
  const ahead = predicted.lower.length
  const steps = recent.length + ahead
  const x = (k: number) =>
    tenth(left + 10 * unit + (k / Math.max(1, steps)) * (right - left - 16 * unit))
  const start = recent.length - 0.5
  const future = (t: number) => x(recent.length + t - 1)

  let grid = ''
  for (const tick of axis.ticks) grid += `M${left},${y(tick)}H${tenth(right)}`
  pen.path('grid', grid)
  for (const [i, label] of tickTexts.entries())
    pen.text('tick-text', label, left - 8 * unit, y(axis.ticks[i]!) + text * 0.35, text, 'end')

  pen.path('fan', bandPath(predicted, future, y))
  pen.path('fan-none', bandPath(unchanged, future, y))
  let limits = ''
  for (const limit of [spec.lower, spec.upper])
    if (limit !== null) limits += `M${left},${y(limit)}H${tenth(right)}`
  pen.path('limit', limits)
  pen.path('center', `M${left},${y(spec.center)}H${tenth(right)}`)
  if (recent.length > 0) {
    const border = x(start)
    pen.path('phase-border', `M${border},${tenth(top)}V${tenth(bottom)}`)
    pen.path('line', recent.map((v, i) => `${i === 0 ? 'M' : 'L'}${x(i)},${y(v)}`).join(''))
    for (const [i, value] of recent.entries())
      pen.circle('point', x(i), y(value), Math.min(3.5 * unit, (x(1) - x(0)) * 0.4))
    // Words stand on their own side of the border.
    const before = 'before'
    if (border - left > textWidth(before, text) + 10 * unit)
      pen.text('tick-text', before, border - 6 * unit, bottom + row, text, 'end')
  }

  let clear = -Infinity
  for (const { at, text: words } of [...spec.ticks].sort((a, b) => a.at - b.at)) {
    if (at > ahead) continue
    const place = future(at)
    pen.path('fan-tick', `M${place},${tenth(top)}V${tenth(bottom)}`)
    const half = textWidth(words, text) / 2
    const middle = Math.min(Math.max(place, half), width - half)
    if (middle - half < clear) continue
    pen.text('fan-text', words, middle, top - row * 0.35, text, 'middle')
    clear = middle + half + 8 * unit
  }
  if (bracket !== null) drawBracket(pen, bracket, right + 10 * unit, 8 * unit, y)

  const labels = [1, Math.round(ahead / 2), ahead]
  const word = (t: number) => `${spec.word} ${t}`
  let used = -Infinity
  for (const t of [...new Set(labels)].filter((n) => n >= 1)) {
    const half = textWidth(word(t), text) / 2
    const middle = Math.min(future(t), width - half)
    if (middle - half < used) continue
    // The first label must not run into the words before the border.
    const first = t === 1
    pen.text(
      'tick-text',
      word(t),
      first ? future(t) : middle,
      bottom + row,
      text,
      first ? 'start' : 'middle',
    )
    used = (first ? future(t) + 2 * half : middle + half) + 10 * unit
  }
  return { width, height: Math.ceil(bottom + row * 1.5), unit, marks }
}

function bandPath(
  { lower, upper }: FanBand,
  x: (t: number) => number,
  y: (value: number) => number,
): string {
  const over = upper.map((value, i) => `${i === 0 ? 'M' : 'L'}${x(i + 1)},${y(value)}`)
  const under = lower.map((value, i) => `L${x(i + 1)},${y(value)}`).reverse()
  return `${over.join('')}${under.join('')}Z`
}
