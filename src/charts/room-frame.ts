import type { Mark, Picture } from './marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import { textWidth } from './text-width.ts'

/** One round of one table, as the pictures of a class take it. */
export interface RoomPoint {
  readonly table: string
  /** In the room, from 1. */
  readonly round: number
  /** How often the table had done the task, this time included. */
  readonly turn: number
  /** Above 0; `null`: no time yet. */
  readonly seconds: number | null
  readonly right: number | null
  readonly inspected: number | null
  /** Predicted time in seconds, low ≤ expected ≤ high; `null`: none to be seen. */
  readonly predicted: {
    readonly low: number
    readonly expected: number
    readonly high: number
  } | null
}

/** What every picture for the room screen takes. */
export interface RoomSpec {
  readonly points: readonly RoomPoint[]
  /** Pixels. */
  readonly width: number
  readonly height: number
  /** Size of the smallest text in pixels: about 28 on a screen 1080 pixels high. */
  readonly text: number
}

export interface RoomPicture extends Picture {
  /** Everything in the picture, in words. */
  readonly description: string
  /** What the picture has no room for, to be read below it. */
  readonly lines?: readonly string[]
}

/** Below this width, pixels, it is a phone that somebody holds, and the page may be as long as it is. */
export const NARROW = 600

export interface RoomFrame {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  readonly unit: number
  readonly text: number
  readonly y: (value: number) => number
}

interface FrameSpec {
  readonly low: number
  readonly high: number
  readonly ticks: readonly number[]
  readonly tickText: (tick: number) => string
  /** Pixels kept free. */
  readonly above: number
  readonly below: number
  readonly beside: number
}

/** The plot area, with its grid lines and their values drawn. */
export function roomFrame(pen: Pen, spec: RoomSpec, axis: FrameSpec): RoomFrame {
  const { text, width, height } = spec
  const unit = text / 14
  const texts = axis.ticks.map(axis.tickText)
  const left = Math.ceil(Math.max(...texts.map((t) => textWidth(t, text))) + 12 * unit)
  const right = width - axis.beside - 2 * unit
  const top = Math.max(axis.above, text * 0.7)
  const bottom = height - axis.below
  const y = (value: number) =>
    bottom - ((value - axis.low) / (axis.high - axis.low)) * (bottom - top)
  pen.path('grid', axis.ticks.map((t) => `M${left},${tenth(y(t))}H${tenth(right)}`).join(''))
  for (const [i, tick] of axis.ticks.entries())
    pen.text('tick-text', texts[i]!, left - 10 * unit, y(tick) + text * 0.35, text, 'end')
  return { left, right, top, bottom, unit, text, y }
}

/** Starts a picture: its marks, and a pen for them. */
export function roomPen(): { readonly marks: Mark[]; readonly pen: Pen } {
  const marks: Mark[] = []
  return { marks, pen: penOn(marks) }
}

/** How many grid lines fit at this text size. */
export const wantedTicks = (spec: RoomSpec): number =>
  Math.max(3, Math.min(7, Math.round(spec.height / (spec.text * 5))))

/** A vertical bracket; of the round that is looked at thick, of earlier ones thin. */
export function roomBracket(
  pen: Pen,
  range: { readonly low: number; readonly expected: number; readonly high: number },
  place: { readonly x: number; readonly half: number; readonly now: boolean },
  y: (value: number) => number,
): void {
  const { x, half, now } = place
  const [low, high, expected] = [
    tenth(y(range.low)),
    tenth(y(range.high)),
    tenth(y(range.expected)),
  ]
  const [l, r] = [tenth(x - half), tenth(x + half)]
  const tick = `M${tenth(x - half * 0.62)},${expected}H${tenth(x + half * 0.62)}`
  pen.path(
    now ? 'bracket' : 'fan',
    `M${l},${high}H${r}M${l},${low}H${r}M${tenth(x)},${high}V${low}${tick}`,
  )
}

/** Tables in the order in which they first appear. */
export const tablesOf = (points: readonly RoomPoint[]): string[] => [
  ...new Set(points.map((point) => point.table)),
]

/** Points with a time. */
export type TimedPoint = RoomPoint & { readonly seconds: number }
export const isTimedPoint = (point: RoomPoint): point is TimedPoint => point.seconds !== null

/** A polyline through places. */
export const throughPlaces = (places: readonly { readonly x: number; readonly y: number }[]) =>
  places.length < 2 ? '' : `M${places.map((p) => `${tenth(p.x)},${tenth(p.y)}`).join('L')}`
