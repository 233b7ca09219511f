import { line } from 'd3-shape'
import { AppError } from '../errors.ts'
import { around } from './boxes.ts'
import {
  drawBracketNumbers,
  drawBrackets,
  drawOutcomes,
  type PlacedTest,
  placeTests,
} from './bracket-marks.ts'
import { type Frame, textSizes } from './frame.ts'
import type { Box, Mark } from './marks.ts'
import { drawNotes, placeNotes } from './note-marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import { drawPhaseLines, phaseLabels, placePhaseLabels, stretchesOf } from './phase-marks.ts'
import { drawLetters, drawRings, type Place } from './signal-marks.ts'
import type { PointTarget, TimeChart, TimeChartSpec } from './spec.ts'
import { textWidth, wrapText } from './text-width.ts'
import { timeAxis } from './time-axis.ts'
import {
  drawTooth,
  NOTCH_DEPTH,
  placeTeeth,
  placeToothLabels,
  TOOTH_HEIGHT,
  toothTargets,
} from './tooth-rail.ts'
import { type ValueAxis, valueAxis } from './value-axis.ts'
import { pointSentence, valueTextOf } from './words.ts'

/**
 * A run or Shewhart chart with its phases, signals, predictions and tests of change, as shapes.
 *
 * From top to bottom: heading, labels of the phases, events, the data, the rail of teeth, dates.
 * The axes hold every point, limit, prediction and goal. Labels give way to each other: they get
 * shorter, move to a second row, or are left out; `describeChart` always says everything.
 *
 * @param spec What to draw; `width` from 320 to 3840 pixels, `textScale` from 0.5 to 4.
 * @returns Shapes in painting order, one target a point (also for gaps), one a placed test.
 * @throws AppError `chart.no_points`, `chart.bad_size`.
 */
export function layOutTimeChart(spec: TimeChartSpec): TimeChart {
  const { analysis, width, textScale = 1 } = spec
  checkSize(spec)
  const { text, unit } = textSizes(width, textScale)
  const narrow = width / textScale < 520
  const marks: Mark[] = []
  const pen = penOn(marks)
  const tests = spec.tests ?? []
  const valueWords = valueTextOf(spec)

  // Left to right.
  const headingBottom = spec.heading === false ? 0 : drawHeading(pen, spec, unit, text)
  const wantedHeight = plotHeightFor(width, unit)
  const axis = valueAxis(
    valuesOf(spec),
    spec.format,
    Math.max(3, Math.round(wantedHeight / (52 * unit))),
  )
  const tickTexts = axis.ticks.map((tick) => valueWords.axis(tick, axis.step))
  const left = Math.ceil(Math.max(...tickTexts.map((t) => textWidth(t, text))) + 10 * unit)
  const goal = spec.goal ?? null
  const goalText = goal === null ? null : valueWords.center(goal)
  const goalRoom =
    goalText === null
      ? 8 * unit
      : narrow
        ? Math.max(textWidth('goal', text), textWidth(goalText, text)) + 20 * unit
        : textWidth(`goal ${goalText}`, text) + 44 * unit
  const right = Math.floor(width - goalRoom)
  const radius = pointRadius(analysis.points.length, right - left, unit)
  const inset = Math.max(12 * unit, radius + 6 * unit)
  const notes = spec.annotations ?? []
  const others = [...notes.map((n) => n.at), ...tests.flatMap(({ from, to }) => [from, to])]
  const time = timeAxis(
    analysis.points.map((p) => p.at),
    others.filter((at) => at !== null),
    left + inset,
    right - inset,
  )
  const xs = analysis.points.map((p) => time.position(p.at) ?? left)
  const stretches = stretchesOf(analysis, xs, left, right)
  const placed = placeTests(tests, time.position)

  // Top to bottom.
  const row = text * 1.35
  const labels = placePhaseLabels(phaseLabels(analysis, stretches, valueWords), left, width, text)
  const labelRows = labels.some((l) => l.row === 1) ? 2 : labels.length > 0 ? 1 : 0
  const labelsTop = headingBottom + 4 * unit
  const noteSize = text * 0.93
  const placedNotes = placeNotes(notes, time.position, left, width, noteSize)
  const noteRows = placedNotes.length === 0 ? 0 : 1 + Math.max(...placedNotes.map((n) => n.row))
  const notesTop = labelsTop + labelRows * row
  const plotTop = notesTop + noteRows * row + 8 * unit
  const teeth = placeTeeth(placed, { left, right, unit })
  const toothLabels = placeToothLabels(placed, teeth, { left, right, width, unit, text })
  const railGap = placed.length > 0 ? (TOOTH_HEIGHT + 12) * unit : 6 * unit
  const notch = placed.some(({ test }) => test.mark === 'abandon') ? NOTCH_DEPTH - 2 : 0
  const belowRail =
    (toothLabels.rows > 0 ? toothLabels.rows * row + notch * unit : 0) + 2 * row + 10 * unit
  const least = 90 * unit
  const plotHeight = Math.max(
    least,
    spec.height === undefined ? wantedHeight : spec.height - plotTop - railGap - belowRail,
  )
  const bottom = plotTop + plotHeight
  const railY = bottom + railGap
  const height = Math.ceil(railY + belowRail)
  const frame: Frame = {
    width,
    unit,
    text,
    narrow,
    plot: { x: left, y: plotTop, width: right - left, height: plotHeight },
    right,
    bottom,
    x: time.position,
    y: (value) => bottom - ((value - axis.low) / (axis.high - axis.low)) * plotHeight,
  }

  drawGrid(pen, frame, axis, tickTexts)
  for (const { edges } of stretches.slice(1)) {
    if (edges.length > 0)
      pen.path('phase-border', `M${tenth(edges[0]!)},${tenth(labelsTop)}V${tenth(bottom)}`)
  }
  drawNotes(pen, placedNotes, (k) => notesTop + (k + 0.85) * row, railY, noteSize)
  drawPhaseLines(pen, frame, analysis, stretches)

  const taken: Box[] = []
  const brackets = drawBrackets(pen, frame, placed, taken)
  const places: Place[] = analysis.points.map((p, i) =>
    p.value === null ? null : { x: xs[i]!, y: frame.y(p.value) },
  )
  pen.path('line', dataLine(places) ?? '')
  const ring = radius + Math.max(3, 4.5 * unit)
  drawRings(pen, analysis, places, ring)
  for (const [i, place] of places.entries()) {
    if (!place) continue
    const role = analysis.points[i]!.leftOut === null ? 'point' : 'point-left-out'
    pen.circle(role, place.x, place.y, radius)
  }
  drawOutcomes(pen, frame, brackets)
  drawLetters(pen, frame, analysis, places, ring, taken)
  const pointBoxes = places.flatMap((p) => (p ? [around(p.x, p.y, radius + 1)] : []))
  drawBracketNumbers(pen, frame, brackets, [...taken, ...pointBoxes])

  for (const label of labels) {
    const x = label.x + (label.x > left ? 5 * unit : 0)
    pen.text('phase-text', label.text, x, labelsTop + (label.row + 0.85) * row, text)
  }
  if (goal !== null && goalText !== null) drawGoal(pen, frame, goal, goalText)
  drawRail(pen, frame, { placed, teeth, railY, toothLabels, notch: notch * unit, row })
  drawDates(
    pen,
    frame,
    time.ticks(textWidth('Mmm 00', text)),
    railY,
    height - 2 * row - 2 * unit,
    row,
  )

  return {
    width,
    height,
    unit,
    marks,
    plot: frame.plot,
    points: targets(spec, xs, places, frame, valueWords),
    teeth: toothTargets(placed, teeth, { left, right, width, y: railY, unit, text }),
    valueDomain: [axis.low, axis.high],
  }
}

function checkSize(spec: TimeChartSpec): void {
  if (spec.analysis.points.length === 0) {
    throw new AppError('chart.no_points', 'There is no point to draw.', 'Add data first.')
  }
  const { width, textScale = 1 } = spec
  if (!(width >= 200 && width <= 8000) || !(textScale >= 0.5 && textScale <= 4)) {
    throw new AppError(
      'chart.bad_size',
      `A chart cannot be ${width} pixels wide with text ${textScale} times its usual size.`,
      'Choose a width from 320 to 3840 and a text scale from 0.5 to 4.',
      { width, textScale },
    )
  }
}

/** Everything the value axis must hold. */
function valuesOf({ analysis, goal, tests = [] }: TimeChartSpec): number[] {
  const values: number[] = []
  const add = (value: number | null | undefined) => {
    if (value !== null && value !== undefined && Number.isFinite(value)) values.push(value)
  }
  for (const p of analysis.points) {
    add(p.value)
    add(p.center)
    add(p.lower)
    add(p.upper)
  }
  add(goal)
  for (const { from, bracket } of tests) {
    if (!bracket || from === null) continue
    add(bracket.low)
    add(bracket.high)
    add(bracket.expected)
    add(bracket.outcome)
  }
  return values
}

/** Wide charts are flat, small ones nearly square. */
function plotHeightFor(width: number, unit: number): number {
  return Math.round(Math.min(420 * unit, Math.max(190 * unit, width * 0.27)))
}

/** Points shrink before they touch. */
function pointRadius(n: number, width: number, unit: number): number {
  const room = width / Math.max(1, n)
  return Math.max(1.4, Math.min(4 * unit, room * 0.42))
}

function drawHeading(pen: Pen, spec: TimeChartSpec, unit: number, text: number): number {
  const size = text * 1.3
  const room = spec.width - 8 * unit
  let y = 0
  for (const part of wrapText(spec.title, room, size, 2, true)) {
    y += size * 1.25
    pen.text('title', part, 2 * unit, y, size)
  }
  for (const part of wrapText(spec.subtitle ?? '', room, text, 2)) {
    y += text * 1.4
    pen.text('subtitle', part, 2 * unit, y, text)
  }
  return y + 10 * unit
}

function drawGrid(pen: Pen, frame: Frame, axis: ValueAxis, texts: readonly string[]): void {
  const { plot, right, unit, text } = frame
  let d = ''
  for (const tick of axis.ticks) d += `M${plot.x},${tenth(frame.y(tick))}H${right}`
  pen.path('grid', d)
  for (const [i, tick] of axis.ticks.entries()) {
    pen.text('tick-text', texts[i]!, plot.x - 8 * unit, frame.y(tick) + text * 0.35, text, 'end')
  }
}

const curve = line<{ readonly x: number; readonly y: number } | null>()
  .defined((place) => place !== null)
  .x((place) => place!.x)
  .y((place) => place!.y)
  .digits(1)
const dataLine = (places: readonly Place[]) => curve(places)

/** A short arrow at the right edge that points at the goal, not a line across the data. */
function drawGoal(pen: Pen, frame: Frame, goal: number, goalText: string): void {
  const { right, unit, text, narrow } = frame
  const y = frame.y(goal)
  const tip = right + 2 * unit
  const s = 6 * unit
  const length = (narrow ? 12 : 28) * unit
  pen.path(
    'goal',
    `M${tenth(tip + length)},${tenth(y)}H${tenth(tip)}M${tenth(tip + s)},${tenth(y - s)}L${tenth(tip)},${tenth(y)}L${tenth(tip + s)},${tenth(y + s)}`,
  )
  const x = tip + length + 5 * unit
  if (narrow) {
    pen.text('goal-text', 'goal', x - 2 * unit, y - text * 0.25, text)
    pen.text('goal-text', goalText, x - 2 * unit, y + text * 0.95, text)
  } else pen.text('goal-text', `goal ${goalText}`, x, y + text * 0.35, text)
}

interface RailParts {
  readonly placed: readonly PlacedTest[]
  readonly teeth: readonly { readonly x: number; readonly width: number }[]
  readonly railY: number
  readonly toothLabels: ReturnType<typeof placeToothLabels>
  readonly notch: number
  readonly row: number
}

function drawRail(pen: Pen, frame: Frame, parts: RailParts): void {
  const { placed, teeth, railY, toothLabels, notch, row } = parts
  const { plot, right, unit, text } = frame
  for (const [i, { test }] of placed.entries()) {
    drawTooth(pen, test.mark, { ...teeth[i]!, rail: railY, unit })
  }
  pen.path('rail', `M${tenth(plot.x)},${tenth(railY)}H${tenth(right)}`)
  for (const label of toothLabels.labels) {
    const y = railY + notch + (label.row + 0.85) * row + 3 * unit
    pen.text('tooth-text', label.text, label.x, y, text, 'middle')
  }
}

/** Dates under the rail; one that would lie on its neighbour is left out. */
function drawDates(
  pen: Pen,
  frame: Frame,
  ticks: ReturnType<ReturnType<typeof timeAxis>['ticks']>,
  railY: number,
  top: number,
  row: number,
): void {
  const { text, width, unit } = frame
  let d = ''
  let end = -Infinity
  let yearEnd = -Infinity
  for (const tick of ticks) {
    const place = (words: string) => {
      const half = textWidth(words, text) / 2
      return { half, x: Math.max(half + 1, Math.min(width - half - 1, tick.position)) }
    }
    const { half, x } = place(tick.text)
    if (x - half < end) continue
    end = x + half + text * 0.5
    d += `M${tenth(tick.position)},${tenth(railY)}v${tenth(5 * unit)}`
    pen.text('tick-text', tick.text, x, top + row * 0.85, text, 'middle')
    const year = place(tick.year)
    if (tick.year === '' || year.x - year.half < yearEnd) continue
    yearEnd = year.x + year.half + text * 0.5
    pen.text('tick-text', tick.year, year.x, top + row * 1.85, text, 'middle')
  }
  pen.path('tick', d)
}

/** Columns half way to the neighbours, so that no pixel of the plot belongs to two points. */
function targets(
  spec: TimeChartSpec,
  xs: readonly number[],
  places: readonly Place[],
  frame: Frame,
  valueWords: ReturnType<typeof valueTextOf>,
): PointTarget[] {
  const { plot, right } = frame
  return spec.analysis.points.map((_, index) => {
    const x = xs[index]!
    const from = index === 0 ? plot.x : (xs[index - 1]! + x) / 2
    const to = index === xs.length - 1 ? right : (x + xs[index + 1]!) / 2
    const place = places[index]
    return {
      index,
      x: tenth(x),
      y: place ? tenth(place.y) : null,
      hit: {
        x: tenth(from),
        y: tenth(plot.y),
        width: tenth(to - from),
        height: tenth(plot.height),
      },
      text: pointSentence(spec, index, valueWords),
    }
  })
}
