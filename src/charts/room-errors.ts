import { scaleLog } from 'd3-scale'
import { durationText } from './format.ts'
import { tenth } from './pen.ts'
import {
  isTimedPoint,
  type RoomPicture,
  type RoomSpec,
  roomBracket,
  roomPen,
  type TimedPoint,
} from './room-frame.ts'
import { shorten, textWidth } from './text-width.ts'

/** Round factors for the axis, with their words. */
const FACTORS: readonly (readonly [number, string])[] = [
  [0.25, '0.25'],
  [0.5, '0.5'],
  [0.75, '0.75'],
  [1, '1'],
  [1.5, '1.5'],
  [2, '2'],
  [4, '4'],
]
/** Predictions further off than this run out of the picture; the words give the figures. */
const FURTHEST = 4.5

interface Judged {
  readonly point: TimedPoint
  readonly low: number
  readonly expected: number
  readonly high: number
}

/**
 * How far predictions were off: each predicted range of time as a multiple of the time that came, on
 * a log axis, side by side within its round. A bracket that crosses the line at 1 held.
 *
 * @param spec Width from 300 pixels; at least one time with a prediction above 0.
 */
export function layOutRoomErrors(spec: RoomSpec): RoomPicture {
  const { width, height, text } = spec
  const unit = text / 14
  const { marks, pen } = roomPen()
  const judged = spec.points.filter(isTimedPoint).flatMap((point): Judged[] => {
    const { predicted, seconds } = point
    if (predicted === null || !(predicted.low > 0)) return []
    const { low, expected, high } = predicted
    return [{ point, low: low / seconds, expected: expected / seconds, high: high / seconds }]
  })
  const rounds = [...new Set(judged.map((j) => j.point.round))].sort((a, b) => a - b)
  const furthest = Math.max(1.6, ...judged.flatMap((j) => [j.high, 1 / j.low]))
  const reach = Math.min(FURTHEST, furthest * 1.06)
  const above = ['1 is the time it took', 'predicted longer than it took'] as const
  const oneLine = textWidth(above.join(''), text) + text * 4 < width
  const top = text * (oneLine ? 1.6 : 2.8)
  const bottom = height - text * 4.2
  const scale = scaleLog([1 / reach, reach], [bottom, top]).clamp(true)
  const y = (factor: number) => tenth(scale(factor))
  const ticks = FACTORS.filter(([factor]) => factor >= 1 / reach && factor <= reach)
  const left = Math.ceil(Math.max(...ticks.map(([, w]) => textWidth(w, text))) + 12 * unit)
  const right = width - 2 * unit
  pen.path(
    'grid',
    ticks
      .filter(([factor]) => factor !== 1)
      .map(([factor]) => `M${left},${y(factor)}H${tenth(right)}`)
      .join(''),
  )
  for (const [factor, word] of ticks)
    pen.text('tick-text', word, left - 10 * unit, y(factor) + text * 0.35, text, 'end')
  pen.path('center', `M${left},${y(1)}H${tenth(right)}`)
  pen.text('tick-text', above[0], left, text * 1.1, text)
  pen.text('tick-text', above[1], right, top - text * 0.5, text, 'end')
  pen.text('tick-text', 'predicted shorter than it took', right, bottom + text * 1.1, text, 'end')
  const column = (right - left) / Math.max(1, rounds.length)
  for (const [i, round] of rounds.entries()) {
    const own = judged.filter((j) => j.point.round === round)
    const step = Math.min((column * 0.88) / own.length, 30 * unit)
    const middle = left + column * (i + 0.5)
    for (const [k, j] of own.entries()) {
      const x = middle + (k - (own.length - 1) / 2) * step
      roomBracket(pen, j, { x, half: Math.min(9 * unit, step * 0.36), now: true }, y)
    }
    const held = own.filter((j) => j.low <= 1 && j.high >= 1).length
    const ranged = own.some((j) => j.low < j.high)
    const below = ranged ? `${held} of ${own.length} held` : `${own.length} predictions`
    pen.text('title', `Round ${round}`, middle, bottom + text * 2.6, text, 'middle')
    pen.text(
      'tooth-text',
      shorten(below, column, text),
      middle,
      bottom + text * 3.8,
      text,
      'middle',
    )
  }
  const lines = rounds.map((round) => {
    const own = judged.filter((j) => j.point.round === round)
    const each = own.map(
      ({ point }) =>
        `${point.table} expected ${durationText(point.predicted!.expected)}, took ${durationText(point.seconds)}`,
    )
    return `Round ${round}: ${each.join('; ')}.`
  })
  const description = `Predicted times beside the times that came, by round. ${lines.join(' ')}`
  return { width, height, unit, marks, description }
}
