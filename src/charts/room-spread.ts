import { durationText } from './format.ts'
import { tenth } from './pen.ts'
import {
  isTimedPoint,
  NARROW,
  type RoomPicture,
  type RoomSpec,
  roomFrame,
  roomPen,
  type TimedPoint,
  wantedTicks,
} from './room-frame.ts'
import { shorten, wrapText } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

export interface RoomSpreadSpec extends RoomSpec {
  /** Middle time of each round, seconds. */
  readonly medians: readonly { readonly round: number; readonly seconds: number }[]
}

/** Where in its column a round stands; names are to its right. */
const PLACE = 0.24
const LINES = 3
/** Height of a line, em. */
const LINE = 1.15

/**
 * How far the tables lie apart in each round: a line from the quickest to the slowest, both named, a
 * dot a table, and a wide stroke at the middle time. Names take up to three lines; on a phone, where
 * that is not enough either, they stand in lines of their own below the picture.
 *
 * @param spec Width from 300 pixels; at least one time.
 */
export function layOutRoomSpread(spec: RoomSpreadSpec): RoomPicture {
  const { medians, width, height, text } = spec
  const { marks, pen } = roomPen()
  const points = spec.points.filter(isTimedPoint)
  const rounds = [...new Set(points.map((p) => p.round))].sort((a, b) => a - b)
  const axis = valueAxis(
    points.map((p) => p.seconds),
    'duration',
    wantedTicks(spec),
  )
  const sorted = rounds.map((round) =>
    points.filter((p) => p.round === round).sort((a, b) => a.seconds - b.seconds),
  )
  // The axis takes about four letters' height of the width.
  const likely = (width - text * 4) / Math.max(1, rounds.length)
  const roomIn = (column: number) => column * (1 - PLACE) - Math.min(6 * text, column * 0.07) - text
  const named = (p: TimedPoint) => `${p.table} ${durationText(p.seconds)}`
  const wrap = (p: TimedPoint) => wrapText(named(p), Math.max(0, roomIn(likely)), text, LINES)
  const ends = sorted.flatMap((own) => [own[0]!, own.at(-1)!])
  const below = width < NARROW && ends.some((p) => wrap(p).join(' ') !== named(p))
  const labelOf = (p: TimedPoint) => (below ? [durationText(p.seconds)] : wrap(p))
  const more = (Math.max(1, ...ends.map((p) => labelOf(p).length)) - 1) * text * LINE
  const frame = roomFrame(pen, spec, {
    ...axis,
    tickText: durationText,
    above: text * 1.2 + more,
    below: text * 1.9 + more,
    beside: 0,
  })
  const { left, right, bottom, unit, y } = frame
  const column = (right - left) / Math.max(1, rounds.length)
  const lines: string[] = []
  for (const [i, round] of rounds.entries()) {
    const own = sorted[i]!
    const quickest = own[0]!
    const slowest = own.at(-1)!
    const x = left + column * (i + PLACE)
    const cap = Math.min(12 * unit, column * 0.12)
    pen.path(
      'span',
      `M${tenth(x - cap)},${tenth(y(quickest.seconds))}h${tenth(2 * cap)}M${tenth(x - cap)},${tenth(y(slowest.seconds))}h${tenth(2 * cap)}M${tenth(x)},${tenth(y(quickest.seconds))}V${tenth(y(slowest.seconds))}`,
    )
    for (const p of own) pen.circle('outcome', x, y(p.seconds), 5 * unit)
    const beside = x + cap + 5 * unit
    const room = left + column * (i + 1) - beside
    const label = (point: typeof quickest, baseline: number, upwards = false) => {
      const words = labelOf(point)
      const first = upwards ? baseline - (words.length - 1) * text * LINE : baseline
      for (const [k, line] of words.entries())
        pen.text('tooth-text', shorten(line, room, text), beside, first + k * text * LINE, text)
    }
    const middle = medians.find((m) => m.round === round)
    if (own.length === 1) label(quickest, y(quickest.seconds) + text * 0.35)
    else {
      // Outside the ends, so that the middle one keeps its place between them.
      label(slowest, y(slowest.seconds) + text * 0.1, true)
      label(quickest, y(quickest.seconds) + text * 0.65)
    }
    if (middle !== undefined && own.length > 2) {
      const at = y(middle.seconds)
      pen.path('center', `M${tenth(x - cap * 1.8)},${tenth(at)}h${tenth(cap * 3.6)}`)
      const clear = y(quickest.seconds) - at > text * 1.35 && at - y(slowest.seconds) > text * 1.35
      if (clear)
        pen.text(
          'tick-text',
          shorten(`${below ? '' : 'middle '}${durationText(middle.seconds)}`, room - cap, text),
          beside + cap,
          at + text * 0.35,
          text,
        )
    }
    pen.text('title', `Round ${round}`, x, bottom + more + text * 1.5, text, 'middle')
    const middleText = middle === undefined ? '' : `, middle ${durationText(middle.seconds)}`
    lines.push(
      `Round ${round}: ${own.length} ${own.length === 1 ? 'table' : 'tables'}, quickest ${quickest.table} ${durationText(quickest.seconds)}, slowest ${slowest.table} ${durationText(slowest.seconds)}${middleText}.`,
    )
  }
  const description = `Spread of the times between tables, by round. ${lines.join(' ')}`
  const picture = { width, height, unit, marks, description }
  if (!below) return picture
  const under = rounds.map((round, i) => {
    const own = sorted[i]!
    const to = own.length === 1 ? '' : ` to ${named(own.at(-1)!)}`
    return `Round ${round}: ${named(own[0]!)}${to}`
  })
  return { ...picture, lines: under }
}
