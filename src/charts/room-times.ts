import { columnNames } from './column-names.ts'
import { durationText } from './format.ts'
import { tenth } from './pen.ts'
import {
  isTimedPoint,
  type RoomFrame,
  type RoomPicture,
  type RoomPoint,
  type RoomSpec,
  roomBracket,
  roomFrame,
  roomPen,
  tablesOf,
  throughPlaces,
  wantedTicks,
} from './room-frame.ts'
import { shorten, textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

export interface RoomTimesSpec extends RoomSpec {
  /** The round that is looked at. */
  readonly round: number
  /** Only these tables, on the axis of all; by default all. */
  readonly only?: readonly string[]
}

/** Where a time fell against its range: longest words first, so that all tables can use the same. */
const VERDICTS = {
  inside: ['as predicted', 'held'],
  quicker: ['quicker than predicted', 'quicker'],
  slower: ['slower than predicted', 'slower'],
  none: ['no prediction', '–'],
  waiting: ['no time yet', '…'],
} as const
type Verdict = keyof typeof VERDICTS

function verdictOf(point: RoomPoint | undefined): Verdict {
  if (point === undefined || point.seconds === null) return 'waiting'
  const { predicted, seconds } = point
  if (predicted === null || predicted.low === predicted.high) return 'none'
  if (seconds < predicted.low) return 'quicker'
  return seconds > predicted.high ? 'slower' : 'inside'
}

/** Items right, from many letters to few. */
function qualityTexts(point: RoomPoint | undefined): readonly string[] {
  if (point?.right == null || point.inspected === null) return ['', '', '']
  const { right, inspected } = point
  return [`${right} of ${inspected} right`, `${right}/${inspected} right`, `${right}/${inspected}`]
}

/** The longest wording of which all fit, for all. */
function commonWording(texts: readonly (readonly string[])[], room: number, size: number) {
  const last = (texts[0]?.length ?? 1) - 1
  let level = 0
  while (level < last && texts.some((all) => textWidth(all[level]!, size) > room)) level++
  return texts.map((all) => shorten(all[level]!, room, size) || all[level]!)
}

/**
 * All tables side by side, each with its rounds from left to right: times joined by a line, the
 * predicted range as a bracket, and under each the items right of the round that is looked at.
 *
 * @param spec Width from 600 pixels, or from 300 for three tables; times in seconds.
 */
export function layOutRoomTimes(spec: RoomTimesSpec): RoomPicture {
  const { points, round, width, height, text } = spec
  const { marks, pen } = roomPen()
  const shown = points.filter((point) => point.round <= round)
  const tables = spec.only ?? tablesOf(points)
  const values = shown.flatMap(({ seconds, predicted }) => [
    ...(seconds === null ? [] : [seconds]),
    ...(predicted === null ? [] : [predicted.low, predicted.high]),
  ])
  const axis = valueAxis(values, 'duration', wantedTicks(spec))
  const row = text * 1.3
  // The axis takes about four letters' height of the width.
  const likely = columnNames(tables, (width - text * 4) / Math.max(1, tables.length), text)
  const frame = roomFrame(pen, spec, {
    ...axis,
    tickText: durationText,
    above: 0,
    below: (2 + likely.rows) * row + text,
    // A staggered name is wider than the last column.
    beside: likely.staggered ? text * 2 : 0,
  })
  const column = (frame.right - frame.left) / Math.max(1, tables.length)
  const room = column - text * 0.7
  const names = likely.staggered ? columnNames(tables, column, text) : likely
  const current = tables.map((table) => shown.find((p) => p.table === table && p.round === round))
  const qualities = commonWording(current.map(qualityTexts), room, text)
  const verdicts = commonWording(
    current.map((point) => VERDICTS[verdictOf(point)]),
    room,
    text,
  )
  for (const [i, table] of tables.entries()) {
    const start = frame.left + i * column
    drawTable(pen, frame, {
      own: shown.filter((point) => point.table === table),
      round,
      start,
      column,
    })
    const middle = start + column / 2
    const under = (line: number) => frame.bottom + text * 0.5 + line * row
    const lower = names.staggered && i % 2 === 1
    if (lower)
      pen.path(
        'note-line',
        `M${tenth(middle)},${tenth(frame.bottom + text * 0.3)}V${tenth(under(1))}`,
      )
    for (const [line, words] of names.lines[i]!.entries())
      pen.text('title', words, middle, under(0.9 + line + (lower ? 1 : 0)), text, 'middle')
    pen.text('tooth-text', qualities[i]!, middle, under(names.rows + 0.9), text, 'middle')
    pen.text('tick-text', verdicts[i]!, middle, under(names.rows + 1.9), text, 'middle')
  }
  return { width, height, unit: frame.unit, marks, description: describe(tables, shown, round) }
}

interface TableColumn {
  readonly own: readonly RoomPoint[]
  readonly round: number
  readonly start: number
  readonly column: number
}

/** Fewer rounds than this leave room for those to come. */
const LEAST_PLACES = 3

function drawTable(pen: Parameters<typeof roomFrame>[0], frame: RoomFrame, at: TableColumn): void {
  const { own, round, start, column } = at
  const { unit, text, y } = frame
  const places = Math.max(LEAST_PLACES, round)
  const step = (column * 0.72) / places
  const x = (r: number) => start + column * 0.14 + step * (r - 0.5)
  const half = Math.min(9 * unit, step * 0.4)
  for (const point of own)
    if (point.predicted !== null)
      roomBracket(pen, point.predicted, { x: x(point.round), half, now: point.round === round }, y)
  const timed = own.filter(isTimedPoint)
  pen.path('link', throughPlaces(timed.map((p) => ({ x: x(p.round), y: y(p.seconds) }))))
  const small = Math.min(4 * unit, step * 0.25)
  for (const p of timed) if (p.round !== round) pen.circle('point', x(p.round), y(p.seconds), small)
  const now = timed.find((p) => p.round === round)
  if (now === undefined) return
  pen.circle('outcome', x(round), y(now.seconds), Math.min(7 * unit, step * 0.42))
  const words = durationText(now.seconds)
  const [lowest, highest] = [
    Math.min(now.seconds, now.predicted?.low ?? now.seconds),
    Math.max(now.seconds, now.predicted?.high ?? now.seconds),
  ]
  // Lines mostly come from the upper left, so the time stands below, and above where it would
  // fall out of the plot.
  const below = y(lowest) + text * 1.25
  const fits = below < frame.bottom - text * 0.1
  const reach = textWidth(words, text, true) / 2
  const middle = Math.min(start + column - reach, Math.max(start + reach, x(round)))
  pen.text('bracket-text', words, middle, fits ? below : y(highest) - text * 0.6, text, 'middle')
}

function describe(tables: readonly string[], shown: readonly RoomPoint[], round: number): string {
  const lines = tables.map((table) => {
    const own = shown.filter((point) => point.table === table)
    const times = own
      .filter(isTimedPoint)
      .map((p) => `round ${p.round} ${durationText(p.seconds)}`)
      .join(', ')
    const now = own.find((point) => point.round === round)
    const range = now?.predicted ?? null
    const said =
      range === null
        ? ''
        : range.low === range.high
          ? `; predicted ${durationText(range.expected)}`
          : `; predicted ${durationText(range.low)} to ${durationText(range.high)}: ${VERDICTS[verdictOf(now)][0]}`
    const right = qualityTexts(now)[0]
    return `${table}: ${times === '' ? 'no time yet' : times}${said}${right === '' ? '' : `; ${right}`}.`
  })
  return `Times of ${tables.length} ${tables.length === 1 ? 'table' : 'tables'} up to round ${round}. ${lines.join(' ')}`
}
