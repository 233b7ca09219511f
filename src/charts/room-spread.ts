import { durationText } from './format.ts'
import { tenth } from './pen.ts'
import {
  isTimedPoint,
  type RoomPicture,
  type RoomSpec,
  roomFrame,
  roomPen,
  wantedTicks,
} from './room-frame.ts'
import { shorten } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

export interface RoomSpreadSpec extends RoomSpec {
  /** Middle time of each round, seconds. */
  readonly medians: readonly { readonly round: number; readonly seconds: number }[]
}

/**
 * How far the tables lie apart in each round: a line from the quickest to the slowest, both named, a
 * dot a table, and a wide stroke at the middle time.
 *
 * @param spec Width from 600 pixels; at least one time.
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
  const frame = roomFrame(pen, spec, {
    ...axis,
    tickText: durationText,
    above: text * 1.2,
    below: text * 1.9,
    beside: 0,
  })
  const { left, right, bottom, unit, y } = frame
  const column = (right - left) / Math.max(1, rounds.length)
  const lines: string[] = []
  for (const [i, round] of rounds.entries()) {
    const own = points.filter((p) => p.round === round).sort((a, b) => a.seconds - b.seconds)
    const quickest = own[0]!
    const slowest = own.at(-1)!
    const x = left + column * (i + 0.32)
    const cap = Math.min(12 * unit, column * 0.12)
    pen.path(
      'span',
      `M${tenth(x - cap)},${tenth(y(quickest.seconds))}h${tenth(2 * cap)}M${tenth(x - cap)},${tenth(y(slowest.seconds))}h${tenth(2 * cap)}M${tenth(x)},${tenth(y(quickest.seconds))}V${tenth(y(slowest.seconds))}`,
    )
    for (const p of own) pen.circle('outcome', x, y(p.seconds), 5 * unit)
    const beside = x + cap + 5 * unit
    const room = left + column * (i + 1) - beside
    const label = (point: typeof quickest, baseline: number) => {
      const words = `${point.table} ${durationText(point.seconds)}`
      pen.text('tooth-text', shorten(words, room, text), beside, baseline, text)
    }
    const middle = medians.find((m) => m.round === round)
    if (own.length === 1) label(quickest, y(quickest.seconds) + text * 0.35)
    else {
      // Outside the ends, so that the middle one keeps its place between them.
      label(slowest, y(slowest.seconds) + text * 0.1)
      label(quickest, y(quickest.seconds) + text * 0.65)
    }
    if (middle !== undefined && own.length > 2) {
      const at = y(middle.seconds)
      pen.path('center', `M${tenth(x - cap * 1.8)},${tenth(at)}h${tenth(cap * 3.6)}`)
      const clear = y(quickest.seconds) - at > text * 1.35 && at - y(slowest.seconds) > text * 1.35
      if (clear)
        pen.text(
          'tick-text',
          shorten(`middle ${durationText(middle.seconds)}`, room - cap, text),
          beside + cap,
          at + text * 0.35,
          text,
        )
    }
    pen.text('title', `Round ${round}`, x, bottom + text * 1.5, text, 'middle')
    const middleText = middle === undefined ? '' : `, middle ${durationText(middle.seconds)}`
    lines.push(
      `Round ${round}: ${own.length} ${own.length === 1 ? 'table' : 'tables'}, quickest ${quickest.table} ${durationText(quickest.seconds)}, slowest ${slowest.table} ${durationText(slowest.seconds)}${middleText}.`,
    )
  }
  const description = `Spread of the times between tables, by round. ${lines.join(' ')}`
  return { width, height, unit, marks, description }
}
