import { line } from 'd3-shape'
import { AppError } from '../errors.ts'
import { drawBracket } from './bracket-marks.ts'
import { valueText } from './format.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import type { Bracket, ValueFormat } from './spec.ts'
import { textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

/** One round of one table. */
export interface CurvePoint {
  /** 1, 2, 3 … along the axis. */
  readonly round: number
  /** `null`: nothing was measured; its bracket is drawn all the same. */
  readonly value: number | null
  readonly bracket: Bracket | null
}

export interface CurveChartSpec {
  readonly points: readonly CurvePoint[]
  /** The fitted curve `first · n^exponent`, with the turn n that stands at each round. */
  readonly curve: {
    readonly first: number
    readonly exponent: number
    readonly turns: readonly { readonly round: number; readonly turn: number }[]
  } | null
  readonly format: ValueFormat
  /** Pixels, 200 to 3840. */
  readonly width: number
  /** Rounds and values that the axes must also hold, so that several pictures share theirs. */
  readonly share?: { readonly rounds: readonly number[]; readonly values: readonly number[] }
}

/**
 * Values of one table round by round, each with its prediction bracket, and the fitted learning curve
 * as dashes behind them. The axis holds every value, every bracket and the curve.
 *
 * @throws AppError `chart.no_points`.
 */
export function layOutCurve(spec: CurveChartSpec): Picture {
  const { points, curve, format, width, share } = spec
  if (points.length === 0)
    throw new AppError('chart.no_points', 'There is no round to draw.', 'Play a round first.')
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const fitted = curve?.turns.map(({ round, turn }) => ({
    round,
    value: curve.first * turn ** curve.exponent,
  }))
  const values = [
    ...points.flatMap(({ value, bracket }) => [value, ...endsOf(bracket)]),
    ...(fitted ?? []).map((p) => p.value),
    ...(share?.values ?? []),
  ].filter((value) => value !== null)
  const plotHeight = Math.round(Math.min(240 * unit, Math.max(130 * unit, width * 0.3)))
  const axis = valueAxis(values, format, Math.max(2, Math.round(plotHeight / (48 * unit))))
  const words = valueText(format, values)
  const tickTexts = axis.ticks.map((tick) => words.axis(tick, axis.step))
  const left = Math.ceil(Math.max(...tickTexts.map((t) => textWidth(t, text))) + 12 * unit)
  const right = width - 8 * unit
  const top = 12 * unit
  const bottom = top + plotHeight
  const rounds = [...new Set([...points.map((p) => p.round), ...(share?.rounds ?? [])])]
  const [first, last] = [Math.min(...rounds), Math.max(...rounds)]
  const column = (right - left) / (last - first + 1)
  const x = (round: number) => left + (round - first + 0.5) * column
  const y = (value: number) => bottom - ((value - axis.low) / (axis.high - axis.low)) * plotHeight

  let grid = ''
  for (const tick of axis.ticks) grid += `M${left},${tenth(y(tick))}H${tenth(right)}`
  pen.path('grid', grid)
  for (const [i, label] of tickTexts.entries())
    pen.text('tick-text', label, left - 8 * unit, y(axis.ticks[i]!) + text * 0.35, text, 'end')

  const path = line<{ readonly round: number; readonly value: number }>()
    .x((p) => x(p.round))
    .y((p) => y(p.value))
    .digits(1)
  pen.path('projection', path(fitted ?? []) ?? '')
  const half = Math.min(10 * unit, column * 0.3)
  for (const { round, bracket } of points)
    if (bracket !== null) drawBracket(pen, bracket, x(round), half, y)
  for (const stretch of stretchesOf(points)) pen.path('line', path(stretch) ?? '')
  for (const { round, value } of points)
    if (value !== null) pen.circle('outcome', x(round), y(value), 5.5 * unit)

  const label = ['round ', ''].find((w) => textWidth(`${w}${last}`, text) < column - 4 * unit) ?? ''
  for (let round = first; round <= last; round++)
    pen.text('tick-text', `${label}${round}`, x(round), bottom + text * 1.5, text, 'middle')
  return { width, height: Math.ceil(bottom + text * 2.1), unit, marks }
}

const endsOf = (bracket: Bracket | null) =>
  bracket === null ? [] : [bracket.low, bracket.expected, bracket.high]

/** Measured rounds in a row: a round without a value is a gap in the line. */
function stretchesOf(points: readonly CurvePoint[]) {
  const stretches: { round: number; value: number }[][] = [[]]
  let before: number | null = null
  for (const { round, value } of points) {
    if (value === null) continue
    if (before !== null && round !== before + 1) stretches.push([])
    stretches.at(-1)!.push({ round, value })
    before = round
  }
  return stretches.filter((stretch) => stretch.length > 1)
}
