import { AppError } from '../errors.ts'
import { drawDates, drawGoal, drawGrid, drawHeading } from './axis-marks.ts'
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
import { afterMissingPeriod } from './missing-periods.ts'
import { drawNotes, placeNotes } from './note-marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import { drawPhaseLines, phaseLabels, placePhaseLabels, stretchesOf } from './phase-marks.ts'
import { pointColumns } from './point-columns.ts'
import { drawLetters, drawRings, type Place } from './signal-marks.ts'
import type { TimeChart, TimeChartSpec } from './spec.ts'
import { textWidth } from './text-width.ts'
import { timeAxis } from './time-axis.ts'
import {
  drawTooth,
  NOTCH_DEPTH,
  placeTeeth,
  placeToothLabels,
  TOOTH_HEIGHT,
  toothTargets,
} from './tooth-rail.ts'
import { valueAxis } from './value-axis.ts'
import { valueTextOf } from './words.ts'

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
    spec.scale ?? spec.format,
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
  const ticks = time.ticks(textWidth('Mmm 00', text))
  const dateRows = ticks.some((tick) => tick.year !== '') ? 2 : 1
  const datesBelow = toothLabels.rows > 0 ? toothLabels.rows * row + notch * unit : 0
  const belowRail = datesBelow + dateRows * row + 10 * unit
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
  for (const [k, { edges }] of stretches.entries()) {
    if (k === 0 || edges.length === 0) continue
    const label = labels.find(({ phase }) => phase === k)
    const top = label === undefined ? plotTop : labelsTop + label.row * row
    pen.path('phase-border', `M${tenth(edges[0]!)},${tenth(top)}V${tenth(bottom)}`)
  }
  drawNotes(pen, placedNotes, (k) => notesTop + (k + 0.85) * row, railY, noteSize)
  drawPhaseLines(pen, frame, analysis, stretches)

  const taken: Box[] = []
  const brackets = drawBrackets(pen, frame, placed, taken)
  const places: Place[] = analysis.points.map((p, i) =>
    p.value === null ? null : { x: xs[i]!, y: frame.y(p.value) },
  )
  pen.path('line', dataLine(places, afterMissingPeriod(analysis.points.map((p) => p.at))))
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
    pen.text('phase-text', label.text, label.x, labelsTop + (label.row + 0.85) * row, text)
  }
  if (goal !== null && goalText !== null) drawGoal(pen, frame, goal, goalText)
  drawRail(pen, frame, { placed, teeth, railY, toothLabels, notch: notch * unit, row })
  drawDates(pen, frame, ticks, railY, railY + datesBelow + 6 * unit, row)

  return {
    width,
    height,
    unit,
    marks,
    plot: frame.plot,
    points: pointColumns(
      xs.map((x, i) => ({ x, y: places[i]?.y ?? null })),
      { ...frame.plot, width: frame.right - frame.plot.x },
    ),
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

/** The line through the values, interrupted by gaps and by periods without a row. */
function dataLine(places: readonly Place[], breaksBefore: readonly boolean[]): string {
  let d = ''
  let draws = false
  let alone = false
  for (let i = 0; i < places.length; i++) {
    const place = places[i]
    if (!place || breaksBefore[i] === true) {
      // A point between two gaps is a line of no length.
      if (alone) d += 'Z'
      draws = false
      alone = false
    }
    if (!place) continue
    d += `${draws ? 'L' : 'M'}${tenth(place.x)},${tenth(place.y)}`
    alone = !draws
    draws = true
  }
  return alone ? `${d}Z` : d
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
