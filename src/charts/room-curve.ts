import { spread } from './boxes.ts'
import { durationText } from './format.ts'
import { tenth } from './pen.ts'
import {
  isTimedPoint,
  NARROW,
  type RoomPicture,
  type RoomSpec,
  roomFrame,
  roomPen,
  tablesOf,
  throughPlaces,
  wantedTicks,
} from './room-frame.ts'
import { shorten, textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

export interface RoomCurveSpec extends RoomSpec {
  /** The typical table's curve `first · n^exponent`, seconds; `null`: not fitted. */
  readonly curve: { readonly first: number; readonly exponent: number } | null
}

/**
 * Times of every table over how often it had done the task, with the typical curve through them,
 * carried on by one go in dashes. Names stand at the ends of the lines.
 *
 * @param spec Width from 300 pixels; at least one time.
 */
export function layOutRoomCurve(spec: RoomCurveSpec): RoomPicture {
  const { curve, width, height, text } = spec
  const { marks, pen } = roomPen()
  const points = spec.points.filter(isTimedPoint)
  const turns = Math.max(1, ...points.map((p) => p.turn))
  const at = (turn: number) => (curve === null ? 0 : curve.first * turn ** curve.exponent)
  const ends = curve === null ? [] : [at(1), at(turns + 1)]
  const axis = valueAxis([...points.map((p) => p.seconds), ...ends], 'duration', wantedTicks(spec))
  const tables = tablesOf(points)
  // A phone has room for the name alone; the time is on the axis and in the words.
  const narrow = width < NARROW
  const endText = (table: string, seconds: number) =>
    narrow ? table : `${table} ${durationText(seconds)}`
  const lastOf = tables.map((table) => points.filter((p) => p.table === table).at(-1)!)
  const labels = lastOf.map((p) => endText(p.table, p.seconds))
  const beside = Math.min(
    width * (narrow ? 0.45 : 0.28),
    Math.max(0, ...labels.map((l) => textWidth(l, text))) + text,
  )
  const frame = roomFrame(pen, spec, {
    ...axis,
    tickText: durationText,
    above: 0,
    below: text * 1.9,
    beside,
  })
  const { left, right, bottom, top, unit, y } = frame
  const places = curve === null ? Math.max(2, turns) : turns + 1
  const column = (right - left) / places
  const x = (turn: number) => left + column * (turn - 0.5)

  for (const table of tables) {
    const own = points.filter((p) => p.table === table)
    pen.path('link', throughPlaces(own.map((p) => ({ x: x(p.turn), y: y(p.seconds) }))))
    for (const p of own) pen.circle('point', x(p.turn), y(p.seconds), 3.5 * unit)
  }
  if (curve !== null) {
    const steps = Array.from({ length: 8 * (turns - 1) + 1 }, (_, i) => 1 + i / 8)
    pen.path('center', throughPlaces(steps.map((t) => ({ x: x(t), y: y(at(t)) }))))
    const on = Array.from({ length: 9 }, (_, i) => turns + i / 8)
    pen.path('projection', throughPlaces(on.map((t) => ({ x: x(t), y: y(at(t)) }))))
    pen.circle('outcome', x(turns + 1), y(at(turns + 1)), 5 * unit)
    if (!narrow)
      pen.text(
        'bracket-text',
        `typical ${durationText(Math.round(at(turns + 1)))}`,
        x(turns + 1),
        y(at(turns + 1)) - text * 0.7,
        text,
        'middle',
      )
  }
  const order = [...lastOf.keys()].sort((a, b) => lastOf[b]!.seconds - lastOf[a]!.seconds)
  const rowHeight = text * 1.15
  const tops = spread(
    order.map((i) => y(lastOf[i]!.seconds) - rowHeight / 2),
    order.map(() => rowHeight),
    top - text * 0.5,
    bottom + text * 0.4,
    0,
  )
  for (const [k, i] of order.entries()) {
    const p = lastOf[i]!
    const middle = tops[k]! + rowHeight / 2
    const from = x(p.turn) + 6 * unit
    pen.path(
      'note-line',
      `M${tenth(from)},${tenth(y(p.seconds))}L${tenth(right + 4 * unit)},${tenth(middle)}`,
    )
    const words = shorten(labels[i]!, beside - 6 * unit, text)
    pen.text('tooth-text', words, right + 7 * unit, middle + text * 0.35, text)
  }
  for (let turn = 1; turn <= places; turn++) {
    const word = turn > turns && curve !== null ? 'next' : narrow ? `${turn}` : `go ${turn}`
    pen.text('tick-text', word, x(turn), bottom + text * 1.5, text, 'middle')
  }
  const lines = tables.map((table) => {
    const own = points.filter((p) => p.table === table)
    return `${table}: ${own.map((p) => durationText(p.seconds)).join(', ')}.`
  })
  const fitted =
    curve === null
      ? 'No curve is fitted.'
      : `The typical curve goes from ${durationText(Math.round(at(1)))} to ${durationText(Math.round(at(turns)))}.`
  return {
    width,
    height,
    unit,
    marks,
    description: `Times by how often each table had done the task. ${fitted} ${lines.join(' ')}`,
  }
}
