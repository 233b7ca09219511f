import { scaleLinear, scaleLog } from 'd3-scale'
import { AppError } from '../errors.ts'
import { valueText } from './format.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import type { ValueFormat } from './spec.ts'
import { shorten, textWidth, wrapText } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

interface Estimate {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** One unit: its interval, or words where it tells too little. */
interface UnitRow {
  readonly name: string
  /** `null`: only its words are shown. */
  readonly change: Estimate | null
  /** Beside its name: what the change is, or why it cannot be told. */
  readonly words: string
}

export interface UnitIntervalsSpec {
  /** At least one, from top to bottom. */
  readonly units: readonly UnitRow[]
  /** All units together; `null`: not told. */
  readonly together: Estimate | null
  /** `difference`: 0 is no change; `ratio`: 1 is none, and halving is as far from it as doubling. */
  readonly scale: 'difference' | 'ratio'
  /** How differences are written; ratios are written as multiples. */
  readonly format: ValueFormat
  /** Under the axis, such as `minutes, against the line before`. */
  readonly axisTitle: string
  /** Pixels, 280 to 3840. */
  readonly width: number
}

const FACTORS = [1 / 10, 1 / 5, 1 / 3, 1 / 2, 2 / 3, 0.8, 1, 1.25, 1.5, 2, 3, 5, 10]
const FACTOR_WORDS = ['0.1', '0.2', '⅓', '½', '⅔', '0.8', '1', '1¼', '1½', '2', '3', '5', '10']
/** Intervals that reach beyond this factor run out of the picture. */
const FURTHEST = 10
/** From this width on, names and words have a column of their own beside the intervals. */
const WIDE = 640

interface Axis {
  readonly x: (value: number) => number
  /** Whether a value lies within the picture. */
  readonly holds: (value: number) => boolean
  readonly ticks: readonly { readonly at: number; readonly words: string }[]
}

/**
 * The change of each unit with its interval, one below the other on one axis, over a band that is the
 * interval of all units together. Each unit's name and words stand beside its interval, or above it
 * where there is little room.
 *
 * @param spec What to draw.
 * @returns Shapes in painting order.
 * @throws AppError `chart.no_points`.
 */
export function layOutUnitIntervals(spec: UnitIntervalsSpec): Picture {
  const { units, together, width } = spec
  if (units.length === 0)
    throw new AppError('chart.no_points', 'There is no unit to draw.', 'Add data first.')
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const row = text * 1.35
  const column = width < WIDE * unit ? 0 : Math.round(width * 0.4)
  const left = column + 14 * unit
  const right = width - 14 * unit
  const axis = spec.scale === 'ratio' ? ratioAxis(spec, left, right) : plainAxis(spec, left, right)
  const none = axis.x(spec.scale === 'ratio' ? 1 : 0)

  const top = drawKey(pen, together !== null, { width, unit, text }) * row + 8 * unit
  const places = placeRows(units, { top, row, text, unit, width, column })
  const bottom = places.at(-1)!.end
  // Where words stand above the intervals, nothing is drawn behind them.
  const stretches =
    column > 0 ? [{ from: top, to: bottom }] : places.map(({ from, end }) => ({ from, to: end }))
  const upright = (x: number) =>
    stretches.map(({ from, to }) => `M${tenth(x)},${tenth(from)}V${tenth(to)}`).join('')

  if (together !== null) {
    const [low, high] = [axis.x(together.low), axis.x(together.high)]
    const boxes = stretches.map(
      ({ from, to }) => `M${tenth(low)},${tenth(from)}H${tenth(high)}V${tenth(to)}H${tenth(low)}Z`,
    )
    pen.path('band', boxes.join(''))
    pen.path('projection-edge', upright(low) + upright(high))
  }
  const ticks = axis.ticks.filter(({ at }) => Math.abs(at - none) > 0.5)
  pen.path('grid', ticks.map(({ at }) => upright(at)).join(''))
  pen.path('rail', upright(none))
  if (together !== null) pen.path('center', upright(axis.x(together.value)))
  for (const [i, { name, change }] of units.entries()) {
    const place = places[i]!
    pen.text('bracket-text', shorten(name, place.room, text), 2 * unit, place.name, text)
    for (const [k, line] of place.words.entries())
      pen.text('note-text', line, 2 * unit, place.name + (k + 1) * row, text)
    if (change !== null) drawInterval(pen, change, axis, place.interval, unit)
  }
  drawAxis(pen, axis, spec.axisTitle, { bottom, left: column, width, unit, text })
  return { width, height: Math.ceil(bottom + 6 * unit + 2.2 * row), unit, marks }
}

interface RowPlace {
  /** Baseline of the name. */
  readonly name: number
  /** Lines of words below it. */
  readonly words: readonly string[]
  /** Width of name and words. */
  readonly room: number
  /** Where the stretch of the intervals begins. */
  readonly from: number
  /** Middle of the interval. */
  readonly interval: number
  readonly end: number
}

function placeRows(
  units: readonly UnitRow[],
  at: { top: number; row: number; text: number; unit: number; width: number; column: number },
): RowPlace[] {
  const { row, text, unit, width, column } = at
  const room = (column > 0 ? column : width) - 4 * unit
  const places: RowPlace[] = []
  let y = at.top
  for (const { words, change } of units) {
    const lines = wrapText(words, room, text, 3)
    const name = y + row
    const last = name + lines.length * row + 6 * unit
    const beside = column > 0
    const interval = beside ? (y + last) / 2 + 2 * unit : last + 12 * unit
    const end = beside ? last + 8 * unit : change === null ? last : interval + 12 * unit
    places.push({ name, words: lines, room, from: last, interval, end })
    y = end
  }
  return places
}

/** A line from end to end with its estimate; an end beyond the picture has no cap. */
function drawInterval(
  pen: Pen,
  { value, low, high }: Estimate,
  axis: Axis,
  y: number,
  unit: number,
) {
  const cap = 5 * unit
  const [from, to, at] = [axis.x(low), axis.x(high), axis.x(value)]
  let d = `M${tenth(from)},${tenth(y)}H${tenth(to)}`
  if (axis.holds(low)) d += `M${tenth(from)},${tenth(y - cap)}V${tenth(y + cap)}`
  if (axis.holds(high)) d += `M${tenth(to)},${tenth(y - cap)}V${tenth(y + cap)}`
  pen.path('span', d)
  pen.circle('outcome', at, y, 5 * unit)
}

function plainAxis(spec: UnitIntervalsSpec, left: number, right: number): Axis {
  const all = everyEnd(spec)
  const axis = valueAxis([0, ...all], 'number', Math.max(3, Math.round((right - left) / 110)))
  const scale = scaleLinear([axis.low, axis.high], [left, right]).clamp(true)
  const words = valueText(spec.format, all)
  return {
    x: scale,
    holds: () => true,
    ticks: axis.ticks.map((tick) => ({
      at: scale(tick),
      words: tick === 0 ? 'no change' : signed(tick, words.axis(Math.abs(tick), axis.step)),
    })),
  }
}

const signed = (value: number, words: string) => `${value < 0 ? '−' : '+'}${words}`

function ratioAxis(spec: UnitIntervalsSpec, left: number, right: number): Axis {
  const all = everyEnd(spec)
  const low = Math.max(1 / FURTHEST, Math.min(0.8, ...all) / 1.05)
  const high = Math.min(FURTHEST, Math.max(1.25, ...all) * 1.05)
  const scale = scaleLog([low, high], [left, right]).clamp(true)
  return {
    x: scale,
    holds: (value) => value >= low && value <= high,
    ticks: FACTORS.flatMap((factor, i) =>
      factor >= low && factor <= high
        ? [{ at: scale(factor), words: factor === 1 ? 'no change' : `× ${FACTOR_WORDS[i]!}` }]
        : [],
    ),
  }
}

const everyEnd = ({ units, together }: UnitIntervalsSpec) =>
  [...units.map((u) => u.change), together].flatMap((e) =>
    e === null ? [] : [e.low, e.value, e.high],
  )

/** Ticks, those that would lie on a nearer one left out; `no change` always stands. */
function drawAxis(
  pen: Pen,
  axis: Axis,
  title: string,
  at: { bottom: number; left: number; width: number; unit: number; text: number },
): void {
  const { bottom, left, width, unit, text } = at
  const row = text * 1.35
  const first = axis.ticks.find((tick) => tick.words === 'no change')
  const rest = axis.ticks.filter((tick) => tick !== first)
  const taken: [number, number][] = []
  let d = ''
  for (const tick of first === undefined ? rest : [first, ...rest]) {
    const half = textWidth(tick.words, text) / 2
    const middle = Math.max(left + half + 1, Math.min(width - half - 1, tick.at))
    const gap = text * 0.4
    if (taken.some(([from, to]) => middle + half + gap > from && middle - half - gap < to)) continue
    taken.push([middle - half, middle + half])
    d += `M${tenth(tick.at)},${tenth(bottom)}v${tenth(5 * unit)}`
    pen.text('tick-text', tick.words, middle, bottom + 5 * unit + row * 0.85, text, 'middle')
  }
  pen.path('tick', d)
  pen.text(
    'tick-text',
    shorten(title, width - left - 4 * unit, text),
    width - 2 * unit,
    bottom + 5 * unit + row * 1.85,
    text,
    'end',
  )
}

/** What each mark is, in as many rows as it takes; returns their number. */
function drawKey(
  pen: Pen,
  hasTogether: boolean,
  { width, unit, text }: { width: number; unit: number; text: number },
): number {
  const sample = 26 * unit
  const entries = [
    { words: 'a unit with its 95 % interval', draw: unitSample },
    ...(hasTogether ? [{ words: 'all units together', draw: bandSample }] : []),
  ]
  let line = 0
  let x = 0
  for (const { words, draw } of entries) {
    const needed = sample + 6 * unit + textWidth(words, text)
    if (x > 0 && x + needed > width) {
      line++
      x = 0
    }
    const y = (line + 0.85) * text * 1.35
    draw(pen, x, y - text * 0.32, sample, unit)
    pen.text('tick-text', words, x + sample + 6 * unit, y, text)
    x += needed + 18 * unit
  }
  return line + 1
}

function unitSample(pen: Pen, x: number, y: number, length: number, unit: number): void {
  pen.path('span', `M${tenth(x)},${tenth(y)}H${tenth(x + length)}`)
  pen.circle('outcome', x + length / 2, y, 5 * unit)
}

function bandSample(pen: Pen, x: number, y: number, length: number, unit: number): void {
  const half = 7 * unit
  pen.path(
    'band',
    `M${tenth(x)},${tenth(y - half)}H${tenth(x + length)}V${tenth(y + half)}H${tenth(x)}Z`,
  )
  pen.path('center', `M${tenth(x + length / 2)},${tenth(y - half)}V${tenth(y + half)}`)
}
