import { useMemo } from 'react'
import { layOutRoomCurve } from '../../../charts/room-curve.ts'
import { layOutRoomErrors } from '../../../charts/room-errors.ts'
import type { RoomPicture, RoomSpec } from '../../../charts/room-frame.ts'
import { layOutRoomScatter } from '../../../charts/room-scatter.ts'
import { layOutRoomSpread } from '../../../charts/room-spread.ts'
import { layOutRoomTimes } from '../../../charts/room-times.ts'
import type { RoomPictureName } from '../../../domain/workshop/talking-points.ts'
import { learningOf, spreadOf } from '../../../domain/workshop/wrap-up-learning.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'
import { PictureMarks } from '../../chart/PictureMarks.tsx'
import { roomPoints } from './room-points.ts'
import { type Size, useSize } from './use-size.ts'

export interface ClassPictureProps {
  readonly name: RoomPictureName
  readonly rows: readonly RoundRow[]
  readonly round: number
  /** Before the browser has measured the room, and in tests. */
  readonly initial?: Size
}

/** A picture of the class; `null` where there is nothing to draw yet. */
function layOut(
  name: RoomPictureName,
  rows: readonly RoundRow[],
  round: number,
  size: Size,
): RoomPicture | null {
  const points = roomPoints(rows)
  const spec: RoomSpec = { points, ...size }
  const timed = points.some((point) => point.seconds !== null)
  const inRound = points.filter((point) => point.round === round)
  switch (name) {
    case 'times':
      return inRound.some((point) => point.seconds !== null || point.predicted !== null)
        ? layOutRoomTimes({ ...spec, round })
        : null
    case 'scatter':
      return inRound.some(({ seconds, inspected }) => seconds !== null && inspected)
        ? layOutRoomScatter({ ...spec, round })
        : null
    case 'spread': {
      const { rounds } = spreadOf(rows)
      if (rounds.length === 0) return null
      const medians = rounds.map(({ round: number, median }) => ({
        round: number,
        seconds: median,
      }))
      return layOutRoomSpread({ ...spec, medians })
    }
    case 'errors':
      return points.some(({ seconds, predicted }) => seconds !== null && (predicted?.low ?? 0) > 0)
        ? layOutRoomErrors(spec)
        : null
    case 'curve': {
      if (!timed) return null
      const { typical } = learningOf(rows)
      const curve =
        typical === null ? null : { first: typical.first, exponent: typical.exponent.estimate }
      return layOutRoomCurve({ ...spec, curve })
    }
  }
}

const FIRST: Size = { width: 1800, height: 690, text: 28 }

/** Fills the room it is given; its whole content is also there in words. */
export function ClassPicture({ name, rows, round, initial = FIRST }: ClassPictureProps) {
  const [ref, size] = useSize<HTMLDivElement>(initial)
  const picture = useMemo(() => layOut(name, rows, round, size), [name, rows, round, size])
  return (
    <div className="room-picture" ref={ref}>
      {picture !== null && (
        <svg
          role="img"
          aria-label={picture.description}
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          width={picture.width}
          height={picture.height}
        >
          <PictureMarks picture={picture} />
        </svg>
      )}
    </div>
  )
}
