import { drawGrid } from './axis-marks.ts'
import type { ChartTable } from './chart-table.ts'
import { valueText } from './format.ts'
import { type Frame, textSizes } from './frame.ts'
import type { Box, Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import type { PointTarget, ValueFormat } from './spec.ts'
import { shorten, textWidth, wrapText } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

/** One of the two changes, with its two ways in words. */
interface PairedChange {
  readonly name: string
  readonly low: string
  readonly high: string
}

export interface InteractionSpec {
  /** Along the axis. */
  readonly first: PairedChange
  /** One line each way. */
  readonly second: PairedChange
  /** Mean response by the way of the first, then of the second. */
  readonly means: {
    readonly lowLow: number
    readonly highLow: number
    readonly lowHigh: number
    readonly highHigh: number
  }
  /** Values that the axis must hold, so that several pictures share one scale. */
  readonly range: readonly [number, number]
  readonly format: ValueFormat
}

export interface InteractionChart extends Picture {
  readonly plot: Box
  /** In the order of `describeInteraction`. */
  readonly points: readonly PointTarget[]
}

/**
 * Mean responses at the four combinations of two changes, one line for each way of the second. Lines
 * that run side by side mean that what one change does is the same either way of the other.
 *
 * The line of the second change's first way is solid with filled points, the other dashed with open
 * ones, and each carries its words.
 *
 * @param spec  What to draw.
 * @param width Pixels, 240 to 1280.
 */
export function layOutInteraction(spec: InteractionSpec, width: number): InteractionChart {
  const { first, second, means, format } = spec
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const row = text * 1.35
  const plotHeight = Math.round(Math.max(150 * unit, Math.min(220 * unit, width * 0.5)))
  const values = [...Object.values(means), ...spec.range]
  const axis = valueAxis(values, typeof format === 'function' ? 'number' : format, 4)
  const words = valueText(format, values)
  const tickTexts = axis.ticks.map((tick) => words.axis(tick, axis.step))
  const left = Math.ceil(Math.max(...tickTexts.map((t) => textWidth(t, text))) + 12 * unit)
  const right = Math.floor(width - 4 * unit)
  const top = 2 * row + 18 * unit
  const bottom = top + plotHeight
  const frame: Frame = {
    width,
    unit,
    text,
    narrow: true,
    plot: { x: left, y: top, width: right - left, height: plotHeight },
    right,
    bottom,
    x: () => null,
    y: (value) => bottom - ((value - axis.low) / (axis.high - axis.low)) * plotHeight,
  }
  const { y } = frame
  const columns = [left + (right - left) * 0.25, left + (right - left) * 0.75] as const

  // The key: which way of the second change each line is.
  const sample = 26 * unit
  for (const [i, way] of [second.low, second.high].entries()) {
    const at = (i + 0.85) * row
    const role = i === 0 ? 'line' : 'projection'
    pen.path(role, `M${tenth(2 * unit)},${tenth(at - text * 0.32)}h${tenth(sample)}`)
    pen.circle(
      i === 0 ? 'point' : 'point-left-out',
      2 * unit + sample / 2,
      at - text * 0.32,
      4 * unit,
    )
    const key = shorten(`${second.name}: ${way}`, width - sample - 10 * unit, text)
    pen.text('tick-text', key, sample + 8 * unit, at, text)
  }
  drawGrid(pen, frame, axis, tickTexts)
  pen.path('rail', `M${left},${tenth(bottom)}H${right}`)
  const lines = [
    { role: 'line', dot: 'point', from: means.lowLow, to: means.highLow },
    { role: 'projection', dot: 'point-left-out', from: means.lowHigh, to: means.highHigh },
  ] as const
  for (const { role, from, to } of lines)
    pen.path(role, `M${tenth(columns[0])},${tenth(y(from))}L${tenth(columns[1])},${tenth(y(to))}`)
  for (const { dot, from, to } of lines) {
    pen.circle(dot, columns[0], y(from), 4.5 * unit)
    pen.circle(dot, columns[1], y(to), 4.5 * unit)
  }
  const room = (right - left) / 2 - 6 * unit
  const ways = [first.low, first.high].map((way) => wrapText(way, room, text, 2))
  for (const [i, lines] of ways.entries())
    for (const [lineNumber, part] of lines.entries()) {
      const at = bottom + 4 * unit + (lineNumber + 0.85) * row
      pen.text('tick-text', part, columns[i]!, at, text, 'middle')
    }
  const nameRow = Math.max(...ways.map((lines) => lines.length))
  const name = shorten(first.name, right - left, text)
  const nameY = bottom + 6 * unit + (nameRow + 0.85) * row
  pen.text('subtitle', name, (left + right) / 2, nameY, text, 'middle')
  return {
    width,
    height: Math.ceil(nameY + 0.4 * row + 4 * unit),
    unit,
    marks,
    plot: frame.plot,
    points: cellsOf(spec).map(({ value, column, other }, index) => {
      const at = y(value)
      const between = (at + y(other)) / 2
      const above = at < y(other) || (at === y(other) && index % 2 === 0)
      const from = above ? top : between
      return {
        index,
        x: tenth(columns[column]),
        y: tenth(at),
        hit: {
          x: tenth(column === 0 ? left : (left + right) / 2),
          y: tenth(from),
          width: tenth((right - left) / 2),
          height: tenth((above ? between : bottom) - from),
        },
      }
    }),
  }
}

/** The four combinations in reading order: by the way of the first change, then of the second. */
function cellsOf({ first, second, means }: InteractionSpec) {
  const { lowLow, lowHigh, highLow, highHigh } = means
  return [
    { value: lowLow, other: lowHigh, column: 0 as const, ways: [first.low, second.low] },
    { value: lowHigh, other: lowLow, column: 0 as const, ways: [first.low, second.high] },
    { value: highLow, other: highHigh, column: 1 as const, ways: [first.high, second.low] },
    { value: highHigh, other: highLow, column: 1 as const, ways: [first.high, second.high] },
  ]
}

/**
 * The picture in words: what it shows, and a sentence for each of its four points.
 *
 * @param spec What is drawn; its width does not matter.
 */
export function describeInteraction(spec: InteractionSpec): {
  readonly text: string
  readonly points: readonly string[]
} {
  const { first, second, means, format } = spec
  const words = valueText(format, Object.values(means))
  const line = (way: string, from: number, to: number) =>
    `With ${second.name} “${way}” the mean goes from ${words.value(from)} (“${first.low}”) to ${words.value(to)} (“${first.high}”).`
  return {
    text: `Means by ${first.name} and ${second.name}. ${line(second.low, means.lowLow, means.highLow)} ${line(second.high, means.lowHigh, means.highHigh)}`,
    points: cellsOf(spec).map(
      ({ value, ways }) =>
        `${first.name} “${ways[0]}”, ${second.name} “${ways[1]}”: mean ${words.value(value)}.`,
    ),
  }
}

/**
 * The picture as a table: one row a combination.
 *
 * @param spec What is drawn; its width does not matter.
 */
export function interactionTable(spec: InteractionSpec): ChartTable {
  const { first, second, means, format } = spec
  const words = valueText(format, Object.values(means))
  return {
    columns: [
      { key: 'first', label: first.name, numeric: false },
      { key: 'second', label: second.name, numeric: false },
      { key: 'mean', label: 'Mean', numeric: true },
    ],
    rows: cellsOf(spec).map(({ value, ways }, i) => ({
      at: String(i),
      cells: [ways[0]!, ways[1]!, words.value(value)],
    })),
  }
}
