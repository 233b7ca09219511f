import { line } from 'd3-shape'
import type { Mark, Picture } from './marks.ts'
import { penOn } from './pen.ts'
import { drawPhaseLines, stretchesOf } from './phase-marks.ts'
import { drawRings, type Place } from './signal-marks.ts'
import type { ChartSpec } from './spec.ts'
import { textWidth } from './text-width.ts'
import { timeAxis } from './time-axis.ts'
import { valueAxis } from './value-axis.ts'
import { centerWord, valueTextOf } from './words.ts'

export interface SmallChartSpec extends ChartSpec {
  /** Pixels, 120 or more. */
  readonly width: number
  /** Pixels; 72 where left out. */
  readonly height?: number
  readonly textScale?: number
}

export interface SmallChart extends Picture {
  /** The latest value that there is, as text; `''` without any. */
  readonly last: string
  /** The centre of the latest phase, as text; `''` without one. */
  readonly center: string
}

/**
 * A chart the size of a sentence: data, centre lines, limits and rings, with the latest value and
 * the latest centre as its only words.
 *
 * @param spec What to draw; an analysis without points gives an empty picture.
 */
export function layOutSmallChart(spec: SmallChartSpec): SmallChart {
  const { analysis, width, height = 72, textScale = 1 } = spec
  const text = 13 * textScale
  const unit = text / 14
  const words = valueTextOf(spec)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const lastIndex = analysis.points.findLastIndex((p) => p.value !== null)
  const lastPoint = analysis.points[lastIndex]
  if (lastPoint === undefined) return { width, height, unit, marks, last: '', center: '' }

  const last = words.value(lastPoint.value!)
  const centerValue = lastPoint.center
  const center = centerValue === null ? '' : words.center(centerValue)
  const centerText = center === '' ? '' : `${centerWord(analysis.kind)} ${center}`
  const room = Math.max(textWidth(last, text * 1.15, true), textWidth(centerText, text * 0.92))
  const right = width - Math.min(width * 0.5, room + 10 * unit)
  const inset = 8 * unit
  const values = analysis.points.flatMap((p) =>
    [p.value, p.center, p.lower, p.upper].filter((v) => v !== null),
  )
  const axis = valueAxis(values, spec.scale ?? spec.format, 2)
  const top = inset
  const bottom = height - inset
  const labels = analysis.points.map((p) => p.at)
  const time = timeAxis(labels, [], inset, right - inset)
  const xs = labels.map((at) => time.position(at) ?? inset)
  const y = (value: number) =>
    bottom - ((value - axis.low) / (axis.high - axis.low)) * (bottom - top)
  const frame = {
    width,
    unit: unit * 0.7,
    text,
    narrow: true,
    plot: { x: 0, y: top, width: right, height: bottom - top },
    right,
    bottom,
    x: time.position,
    y,
  }
  drawPhaseLines(pen, frame, analysis, stretchesOf(analysis, xs, 0, right))
  const places: Place[] = analysis.points.map((p, i) =>
    p.value === null ? null : { x: xs[i]!, y: y(p.value) },
  )
  pen.path('line', curve(places) ?? '')
  drawRings(pen, analysis, places, 4.5 * unit)
  pen.circle('point', xs[lastIndex]!, y(lastPoint.value!), 3.5 * unit)
  const x = right + 6 * unit
  pen.text('title', last, x, height / 2 - 2 * unit, text * 1.15)
  pen.text('tick-text', centerText, x, height / 2 + text * 1.05, text * 0.92)
  // Thinner lines than on a page: many points share few pixels.
  return { width, height, unit: unit * 0.75, marks, last, center }
}

const curve = line<{ readonly x: number; readonly y: number } | null>()
  .defined((place) => place !== null)
  .x((place) => place!.x)
  .y((place) => place!.y)
  .digits(1)
