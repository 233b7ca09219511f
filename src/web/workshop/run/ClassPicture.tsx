import { useMemo } from 'react'
import { layOutRoomCurve } from '../../../charts/room-curve.ts'
import { layOutRoomErrors } from '../../../charts/room-errors.ts'
import { NARROW, type RoomPicture, type RoomSpec, tablesOf } from '../../../charts/room-frame.ts'
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

/** Tables side by side on a phone, and the height of each such row of them, em. */
const BAND = { tables: 3, height: 19 }

/** On a phone tables stand a few at a time, rows below each other, all on one axis. */
function layOutBands(rows: readonly RoundRow[], round: number, size: Size): RoomPicture[] {
  const points = roomPoints(rows)
  const shown = points.some(
    (point) => point.round === round && (point.seconds !== null || point.predicted !== null),
  )
  if (!shown) return []
  const tables = tablesOf(points)
  const bands = Array.from({ length: Math.ceil(tables.length / BAND.tables) }, (_, i) =>
    tables.slice(i * BAND.tables, (i + 1) * BAND.tables),
  )
  const height = BAND.height * size.text
  return bands.map((only) => layOutRoomTimes({ points, ...size, height, round, only }))
}

const FIRST: Size = { width: 1800, height: 690, text: 28 }

/** Fills the room it is given; its whole content is also there in words. */
export function ClassPicture({ name, rows, round, initial = FIRST }: ClassPictureProps) {
  const [ref, size] = useSize<HTMLDivElement>(initial)
  const inBands = name === 'times' && size.width < NARROW
  const pictures = useMemo(() => {
    if (inBands) return layOutBands(rows, round, size)
    const picture = layOut(name, rows, round, size)
    return picture === null ? [] : [picture]
  }, [inBands, name, rows, round, size])
  const lines = pictures.flatMap((picture) => picture.lines ?? [])
  return (
    <>
      <div className={inBands ? 'room-picture in-bands' : 'room-picture'} ref={ref}>
        {pictures.map((picture) => (
          <svg
            key={picture.description}
            role="img"
            aria-label={picture.description}
            viewBox={`0 0 ${picture.width} ${picture.height}`}
            width={picture.width}
            height={picture.height}
          >
            <PictureMarks picture={picture} />
          </svg>
        ))}
      </div>
      {lines.length > 0 && (
        // The picture's description says the same.
        <ul className="room-picture-lines bare" aria-hidden="true">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </>
  )
}
