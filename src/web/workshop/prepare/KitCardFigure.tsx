import { useId, useMemo } from 'react'
import { layOutKitCard } from '../../../charts/kit-card.ts'
import type { KitCard } from '../../../domain/workshop/kit.ts'
import { PictureMarks } from '../../chart/PictureMarks.tsx'
import { useWidth } from '../../chart/use-width.ts'
import '../../chart/chart.css'

export interface KitCardFigureProps {
  readonly card: KitCard
  /** Name of the kit. */
  readonly name: string
  /** A picture the size of a stamp, without words. */
  readonly bare?: boolean
  /** Fixed, for paper; otherwise as wide as there is room. */
  readonly width?: number
}

/** The card of a kit; read out in words. */
export function KitCardFigure({ card, name, bare = false, width: fixed }: KitCardFigureProps) {
  const id = useId()
  const [ref, measured] = useWidth<HTMLDivElement>(fixed ?? (bare ? 180 : 560))
  const width = fixed ?? measured
  const picture = useMemo(() => layOutKitCard(card, { width, bare }), [card, width, bare])
  return (
    <div ref={ref} className="chart-small kit-card">
      <svg
        role="img"
        aria-labelledby={`${id}-title ${id}-words`}
        viewBox={`0 0 ${picture.width} ${picture.height}`}
        width={picture.width}
        height={picture.height}
      >
        <title id={`${id}-title`}>{`Card of ${name}`}</title>
        {bare ? null : <desc id={`${id}-words`}>{picture.description}</desc>}
        <PictureMarks picture={picture} />
      </svg>
    </div>
  )
}
