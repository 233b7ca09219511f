import { overlap, textBox } from './boxes.ts'
import { durationText, numberText } from './format.ts'
import type { Box } from './marks.ts'
import { type Pen, tenth } from './pen.ts'
import {
  isTimedPoint,
  type RoomPicture,
  type RoomSpec,
  roomFrame,
  roomPen,
  type TimedPoint,
  throughPlaces,
} from './room-frame.ts'
import { textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

export interface RoomScatterSpec extends RoomSpec {
  /** The round that is looked at; the one before is drawn small. */
  readonly round: number
}

const shareOf = (point: TimedPoint): number | null =>
  point.right === null || point.inspected === null || point.inspected === 0
    ? null
    : point.right / point.inspected

/**
 * Time against quality in one round: a dot a table with its name, and a thin line from where it was
 * a round before. Top left is quick with everything right.
 *
 * @param spec Width from 600 pixels; at least one table timed and inspected in the round.
 */
export function layOutRoomScatter(spec: RoomScatterSpec): RoomPicture {
  const { round, width, height, text } = spec
  const { marks, pen } = roomPen()
  const seen = spec.points
    .filter(isTimedPoint)
    .flatMap((point) => {
      const share = shareOf(point)
      return share === null ? [] : [{ point, share }]
    })
    .filter(({ point }) => point.round === round || point.round === round - 1)
  const now = seen.filter(({ point }) => point.round === round)
  const shares = valueAxis([...seen.map((s) => s.share), 1], 'percent', 4)
  const frame = roomFrame(pen, spec, {
    ...shares,
    // Room for names below the lowest dots.
    low: shares.low - 0.14 * (1 - shares.low),
    high: 1,
    ticks: shares.ticks.filter((tick) => tick <= 1),
    tickText: (tick) => `${numberText(tick * 100, 0)} %`,
    above: text * 3.4,
    below: text * 3.2,
    beside: 0,
  })
  const { left, right, bottom, unit, y } = frame
  const times = valueAxis(
    seen.map((s) => s.point.seconds),
    'duration',
    6,
  )
  const inset = text * 1.2
  const x = (seconds: number) =>
    left + inset + ((seconds - times.low) / (times.high - times.low)) * (right - left - 2 * inset)
  let ticks = ''
  let end = -Infinity
  for (const tick of times.ticks) {
    ticks += `M${tenth(x(tick))},${tenth(bottom)}v${tenth(5 * unit)}`
    const words = durationText(tick)
    const half = textWidth(words, text) / 2
    if (x(tick) - half < end) continue
    end = x(tick) + half + text * 0.5
    pen.text('tick-text', words, x(tick), bottom + text * 1.5, text, 'middle')
  }
  pen.path('tick', ticks)
  pen.text('tick-text', 'items right', 0, text * 0.9, text)
  pen.text('tick-text', 'quicker is further left', right, bottom + text * 2.7, text, 'end')

  const placeOf = ({ point, share }: (typeof seen)[number]) => ({
    x: x(point.seconds),
    y: y(share),
  })
  const taken: Box[] = []
  for (const dot of now) {
    const { x: cx, y: cy } = placeOf(dot)
    const r = 8 * unit
    taken.push({ x: cx - r, y: cy - r, width: 2 * r, height: 2 * r })
  }
  for (const dot of now) {
    const earlier = seen.find(
      ({ point }) => point.table === dot.point.table && point.round === round - 1,
    )
    if (earlier === undefined) continue
    const from = placeOf(earlier)
    pen.path('link', throughPlaces([from, placeOf(dot)]))
    pen.circle('point', from.x, from.y, 3 * unit)
  }
  for (const dot of now) pen.circle('outcome', placeOf(dot).x, placeOf(dot).y, 7 * unit)
  const within = { x: left, y: 0, width: right - left, height: bottom + text * 0.2 }
  for (const dot of [...now].sort((a, b) => a.point.seconds - b.point.seconds))
    nameDot(pen, dot.point.table, placeOf(dot), { taken, within, text, unit })

  const lines = now.map(
    ({ point }) =>
      `${point.table}: ${durationText(point.seconds)}, ${point.right} of ${point.inspected} right.`,
  )
  return {
    width,
    height,
    unit,
    marks,
    description: `Time against items right in round ${round}. ${lines.join(' ')}`,
  }
}

interface NamePlace {
  readonly taken: Box[]
  readonly within: Box
  readonly text: number
  readonly unit: number
}

/** The name at the first place round its dot that is free; else where it covers least. */
function nameDot(
  pen: Pen,
  name: string,
  { x, y }: { readonly x: number; readonly y: number },
  { taken, within, text, unit }: NamePlace,
): void {
  const off = 13 * unit
  const tries = [
    { x, y: y - off, anchor: 'middle' as const },
    { x, y: y + off + text * 0.75, anchor: 'middle' as const },
    { x: x + off, y: y + text * 0.35, anchor: 'start' as const },
    { x: x - off, y: y + text * 0.35, anchor: 'end' as const },
    { x, y: y - off - text * 1.15, anchor: 'middle' as const },
    { x, y: y + off + text * 1.9, anchor: 'middle' as const },
    { x, y: y + off + text * 3.05, anchor: 'middle' as const },
  ].map((place) => ({ ...place, box: textBox(name, place.x, place.y, text, place.anchor) }))
  const inside = ({ box }: (typeof tries)[number]) =>
    box.x >= within.x - text &&
    box.x + box.width <= within.x + within.width &&
    box.y >= within.y &&
    box.y + box.height <= within.y + within.height
  const possible = tries.filter(inside)
  const covered = (box: Box) => taken.filter((other) => overlap(box, other)).length
  const best = [...(possible.length > 0 ? possible : tries)].sort(
    (a, b) => covered(a.box) - covered(b.box),
  )[0]!
  taken.push(best.box)
  pen.text('bracket-text', name, best.x, best.y, text, best.anchor)
}
