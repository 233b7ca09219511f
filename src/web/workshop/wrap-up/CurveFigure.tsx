import { useId, useMemo } from 'react'
import { type CurveChartSpec, layOutCurve } from '../../../charts/curve-chart.ts'
import { PictureMarks } from '../../chart/PictureMarks.tsx'
import { usePrintedWidth } from './use-printed-width.ts'

export interface CurveFigureProps extends Omit<CurveChartSpec, 'width'> {
  readonly title: string
  readonly headingLevel: 3 | 4
  /** The picture in words. */
  readonly description: string
}

/** Rounds of one table with their brackets and the learning curve. */
export function CurveFigure({ title, headingLevel, description, ...spec }: CurveFigureProps) {
  const id = useId()
  const [ref, width] = usePrintedWidth<HTMLDivElement>(480, 'half')
  const { points, curve, format, share } = spec
  const picture = useMemo(
    () =>
      layOutCurve({
        points,
        curve,
        format,
        width: Math.max(200, width),
        ...(share === undefined ? {} : { share }),
      }),
    [points, curve, format, share, width],
  )
  const Heading = `h${headingLevel}` as const
  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      <figcaption className="chart-caption">
        <Heading id={`${id}-title`}>{title}</Heading>
      </figcaption>
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
      <p id={`${id}-words`} className="chart-unseen">
        {description}
      </p>
    </figure>
  )
}
