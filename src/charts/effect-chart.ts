import { line } from 'd3-shape'
import { AppError } from '../errors.ts'
import { drawDates, drawGrid } from './axis-marks.ts'
import { placeTests } from './bracket-marks.ts'
import { valueText } from './format.ts'
import { type Frame, textSizes } from './frame.ts'
import type { Box, Mark, MarkRole, Picture } from './marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import { pointColumns } from './point-columns.ts'
import type { ChartTest, PointTarget, ToothTarget, ValueFormat } from './spec.ts'
import { textWidth } from './text-width.ts'
import { timeAxis } from './time-axis.ts'
import { drawTooth, NOTCH_DEPTH, placeTeeth, TOOTH_HEIGHT, toothTargets } from './tooth-rail.ts'
import { valueAxis } from './value-axis.ts'

/** A place of the line before carried on, with its interval. */
interface ProjectedPoint {
  readonly at: string
  readonly value: number
  readonly low: number
  readonly high: number
}

export interface EffectChartSpec {
  /** In time order, in the chart's unit. */
  readonly points: readonly { readonly at: string; readonly value: number }[]
  /** The fitted line, one value a point. */
  readonly fitted: readonly number[]
  /** Zero-based index of the first point after the break. */
  readonly breakAt: number
  /** Where the break stands on the time axis. */
  readonly breakLabel: string
  readonly projected: readonly ProjectedPoint[]
  /** When a step may have begun, with its most likely time; `null`: not said. */
  readonly start: { readonly at: string; readonly from: string; readonly to: string } | null
  readonly tests: readonly ChartTest[]
  readonly format: ValueFormat
  /** Pixels, 280 to 3840. */
  readonly width: number
}

export interface EffectChart extends Picture {
  readonly plot: Box
  /** One target a point, in time order. */
  readonly points: readonly PointTarget[]
  readonly teeth: readonly ToothTarget[]
}

/** Beyond this many times the spread of the points, an interval is drawn to the edge and no further. */
const WIDEST = 0.6

/**
 * A series with the line before and after a break, the line before carried on with its interval, and
 * below it when a step may have begun, over the teeth of the tests.
 *
 * The value axis holds every point and both lines; an interval that goes far beyond them is cut at
 * the edge, so that the points stay readable.
 *
 * @param spec What to draw.
 * @throws AppError `chart.no_points`.
 */
export function layOutEffectChart(spec: EffectChartSpec): EffectChart {
  const { points, fitted, breakAt, projected, start, width } = spec
  if (points.length === 0)
    throw new AppError('chart.no_points', 'There is no point to draw.', 'Add data first.')
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const values = points.map((p) => p.value)
  const lines = [...values, ...fitted, ...projected.map((p) => p.value)]
  const spread = Math.max(...lines) - Math.min(...lines)
  const floor = Math.min(0, ...lines) < 0 ? -Infinity : 0
  const lowest = Math.max(floor, Math.min(...lines) - WIDEST * spread)
  const highest = Math.max(...lines) + WIDEST * spread
  const within = (value: number) => Math.min(highest, Math.max(lowest, value))
  const all = [...lines, ...projected.flatMap((p) => [within(p.low), within(p.high)])]
  const plotHeight = Math.round(Math.min(360 * unit, Math.max(180 * unit, width * 0.28)))
  const axis = valueAxis(all, spec.format, Math.max(3, Math.round(plotHeight / (52 * unit))))
  const words = valueText(spec.format, all)
  const tickTexts = axis.ticks.map((tick) => words.axis(tick, axis.step))
  const left = Math.ceil(Math.max(...tickTexts.map((t) => textWidth(t, text))) + 10 * unit)
  const right = Math.floor(width - 8 * unit)
  const time = timeAxis(
    points.map((p) => p.at),
    [spec.breakLabel, ...spec.tests.flatMap((t) => [t.from, t.to])].filter((at) => at !== null),
    left + 10 * unit,
    right - 10 * unit,
  )
  const x = (at: string) => time.position(at) ?? left
  const row = text * 1.35

  const keyRows = drawKey(pen, start !== null, { width, unit, text })
  const top = keyRows * row + 12 * unit
  const bottom = top + plotHeight
  const placed = placeTests(spec.tests, time.position)
  const teeth = placeTeeth(placed, { left, right, unit })
  const spanY = bottom + 12 * unit
  const railY =
    bottom + (start === null ? 8 : 24) * unit + (placed.length > 0 ? TOOTH_HEIGHT : 0) * unit
  const notch = placed.some(({ test }) => test.mark === 'abandon') ? NOTCH_DEPTH * unit : 0
  const numbersAt = railY + notch + row * 0.9
  const datesTop = railY + notch + (placed.length > 0 ? row : 0) + 6 * unit
  const ticks = time.ticks(textWidth('Mmm 00', text))
  const frame: Frame = {
    width,
    unit,
    text,
    narrow: width < 520,
    plot: { x: left, y: top, width: right - left, height: plotHeight },
    right,
    bottom,
    x: time.position,
    y: (value) =>
      Math.min(
        bottom,
        Math.max(top, bottom - ((value - axis.low) / (axis.high - axis.low)) * plotHeight),
      ),
  }
  const { y } = frame

  pen.path('band', bandPath(projected.map((p) => ({ x: x(p.at), low: y(p.low), high: y(p.high) }))))
  drawGrid(pen, frame, axis, tickTexts)
  const breakX = x(spec.breakLabel)
  pen.path('phase-border', `M${tenth(breakX)},${tenth(top)}V${tenth(railY)}`)
  for (const edge of ['low', 'high'] as const)
    pen.path('projection-edge', curve(projected.map((p) => ({ x: x(p.at), y: y(p[edge]) }))) ?? '')
  const radius = Math.max(1.4, Math.min(3.5 * unit, ((right - left) / points.length) * 0.4))
  for (const p of points) pen.circle('point', x(p.at), y(p.value), radius)
  const place = (i: number) => ({ x: x(points[i]!.at), y: y(fitted[i]!) })
  const indices = [...points.keys()]
  pen.path('center', curve(indices.filter((i) => i < breakAt).map(place)) ?? '')
  pen.path('center', curve(indices.filter((i) => i >= breakAt).map(place)) ?? '')
  pen.path('projection', curve(projected.map((p) => ({ x: x(p.at), y: y(p.value) }))) ?? '')
  if (start !== null) {
    const [a, b, c] = [x(start.from), x(start.to), x(start.at)]
    const cap = 5 * unit
    pen.path(
      'span',
      `M${tenth(a)},${tenth(spanY - cap)}V${tenth(spanY + cap)}M${tenth(a)},${tenth(spanY)}H${tenth(b)}M${tenth(b)},${tenth(spanY - cap)}V${tenth(spanY + cap)}`,
    )
    pen.circle('outcome', c, spanY, 5 * unit)
  }
  for (const [i, { test }] of placed.entries()) {
    drawTooth(pen, test.mark, { ...teeth[i]!, rail: railY, unit })
    const middle = teeth[i]!.x + teeth[i]!.width / 2
    pen.text('tooth-text', String(test.number), middle, numbersAt, text, 'middle')
  }
  pen.path('rail', `M${tenth(left)},${tenth(railY)}H${tenth(right)}`)
  drawDates(pen, frame, ticks, railY, datesTop, row)
  const dateRows = ticks.some((tick) => tick.year !== '') ? 2 : 1
  return {
    width,
    height: Math.ceil(datesTop + dateRows * row + 6 * unit),
    unit,
    marks,
    plot: frame.plot,
    points: pointColumns(
      points.map((p) => ({ x: x(p.at), y: y(p.value) })),
      frame.plot,
    ),
    teeth: toothTargets(placed, teeth, { left, right, width, y: railY, unit, text }),
  }
}

const curve = line<{ readonly x: number; readonly y: number }>()
  .x((p) => p.x)
  .y((p) => p.y)
  .digits(1)

/** The area between the two edges of an interval. */
function bandPath(
  edges: readonly { readonly x: number; readonly low: number; readonly high: number }[],
): string {
  if (edges.length < 2) return ''
  const there = edges.map((e) => `${tenth(e.x)},${tenth(e.high)}`)
  const back = [...edges].reverse().map((e) => `${tenth(e.x)},${tenth(e.low)}`)
  return `M${there.join('L')}L${back.join('L')}Z`
}

/** What each line is, in as many rows as it takes; returns their number. */
function drawKey(
  pen: Pen,
  hasStart: boolean,
  { width, unit, text }: { width: number; unit: number; text: number },
): number {
  const entries: { role: MarkRole; words: string }[] = [
    { role: 'center', words: 'fitted line' },
    { role: 'projection', words: 'line before, carried on' },
    { role: 'projection-edge', words: 'its 95 % interval' },
  ]
  if (hasStart) entries.push({ role: 'span', words: 'when a step may have begun' })
  const sample = 26 * unit
  let row = 0
  let x = 0
  for (const { role, words } of entries) {
    const needed = sample + 6 * unit + textWidth(words, text)
    if (x > 0 && x + needed > width) {
      row++
      x = 0
    }
    const y = (row + 0.85) * text * 1.35
    pen.path(role, `M${tenth(x)},${tenth(y - text * 0.32)}H${tenth(x + sample)}`)
    pen.text('tick-text', words, x + sample + 6 * unit, y, text)
    x += needed + 18 * unit
  }
  return row + 1
}
