import { useId, useMemo } from 'react'
import { layOutRoomCurve } from '../../../charts/room-curve.ts'
import type { RoomPicture, RoomSpec } from '../../../charts/room-frame.ts'
import { layOutRoomScatter } from '../../../charts/room-scatter.ts'
import { layOutRoomSpread } from '../../../charts/room-spread.ts'
import type { WrapUp } from '../../../domain/workshop/wrap-up.ts'
import { isTimed } from '../../../domain/workshop/wrap-up-rounds.ts'
import { PictureMarks } from '../../chart/PictureMarks.tsx'
import { roomPoints } from '../run/room-points.ts'
import { usePrintedWidth } from './use-printed-width.ts'

/** The class together: its learning curve, how far the tables lie apart, time against quality. */
export function ClassPictures({ found }: { readonly found: WrapUp }) {
  const { rows, learning, spread } = found
  const points = useMemo(() => roomPoints(rows), [rows])
  const curve = useMemo(() => {
    const { typical } = learning
    return typical === null ? null : { first: typical.first, exponent: typical.exponent.estimate }
  }, [learning])
  const medians = useMemo(
    () => (spread?.rounds ?? []).map(({ round, median }) => ({ round, seconds: median })),
    [spread],
  )
  const layOuts = useMemo(() => {
    const inspected = rows.filter((row) => isTimed(row) && row.share !== null)
    const round = Math.max(0, ...inspected.map((row) => row.round))
    return {
      round,
      curve: (size: Size) => layOutRoomCurve({ points, curve, ...size }),
      spread: (size: Size) => layOutRoomSpread({ points, medians, ...size }),
      scatter: (size: Size) => layOutRoomScatter({ points, round, ...size }),
    }
  }, [points, rows, curve, medians])
  if (!rows.some(isTimed)) return null
  return (
    <div className="wrap-class">
      <RoomFigure
        title="Learning curve"
        caption={
          curve === null
            ? 'Times of each table over how often it had done the task.'
            : 'Times of each table over how often it had done the task; the strong line is the curve of a typical table, carried on by one round in dashes.'
        }
        layOut={layOuts.curve}
      />
      {medians.length > 0 && (
        <RoomFigure
          title="Spread between tables"
          caption="From the quickest to the slowest table of each round, with the middle time."
          layOut={layOuts.spread}
        />
      )}
      {layOuts.round > 0 && (
        <RoomFigure
          title={`Time against items right, round ${layOuts.round}`}
          caption="Top left is quick with everything right; thin lines come from the round before."
          layOut={layOuts.scatter}
        />
      )}
    </div>
  )
}

type Size = Pick<RoomSpec, 'width' | 'height' | 'text'>

interface RoomFigureProps {
  readonly title: string
  readonly caption: string
  readonly layOut: (size: Size) => RoomPicture
}

/** These pictures are laid out for 600 pixels or more; a phone shows them smaller, with larger text. */
const LEAST = 600

function RoomFigure({ title, caption, layOut }: RoomFigureProps) {
  const id = useId()
  const [ref, width] = usePrintedWidth<HTMLDivElement>(720, 'full')
  const picture = useMemo(() => {
    const shrunk = Math.max(1, LEAST / width)
    const wide = Math.max(LEAST, width)
    const height = Math.round(Math.min(420, wide * 0.55) * Math.min(1.4, shrunk))
    return layOut({ width: wide, height, text: (shrunk > 1 ? 12 : 14) * shrunk })
  }, [layOut, width])
  return (
    <figure className="chart wrap-figure" aria-labelledby={`${id}-title`}>
      <h3 id={`${id}-title`}>{title}</h3>
      <div ref={ref} className="chart-frame">
        <svg
          role="img"
          aria-label={title}
          aria-describedby={`${id}-words`}
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          width={picture.width}
          height={picture.height}
        >
          <PictureMarks picture={picture} />
        </svg>
      </div>
      <figcaption className="small">{caption}</figcaption>
      <p id={`${id}-words`} className="chart-unseen">
        {picture.description}
      </p>
    </figure>
  )
}
