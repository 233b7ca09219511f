import { useId, useMemo } from 'react'
import { layOutRamp, type RampSpec } from '../../charts/ramp.ts'
import { PictureMarks } from './PictureMarks.tsx'
import { ToothTargets } from './ToothTargets.tsx'
import { useWidth } from './use-width.ts'

export interface RampFigureProps extends Omit<RampSpec, 'width'> {
  readonly headingLevel?: 2 | 3 | 4 | null
  readonly onOpenTest?: (id: string) => void
  /** Width before the browser has measured the space. Default 720. */
  readonly initialWidth?: number
}

/** The chain of tests of one idea: predictions against outcomes, and what each test led to. */
export function RampFigure(props: RampFigureProps) {
  const { title, tests, format, scale, better, goal, unitLabel, textScale } = props
  const { headingLevel = 2, onOpenTest, initialWidth = 720 } = props
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(initialWidth)
  const ramp = useMemo(() => {
    if (tests.length === 0) return null
    return layOutRamp({
      title,
      tests,
      format,
      ...(scale === undefined ? {} : { scale }),
      width: Math.max(280, width),
      ...(better === undefined ? {} : { better }),
      ...(goal === undefined ? {} : { goal }),
      ...(unitLabel === undefined ? {} : { unitLabel }),
      ...(textScale === undefined ? {} : { textScale }),
    })
  }, [title, tests, format, scale, better, goal, unitLabel, textScale, width])
  const Heading = headingLevel === null ? 'span' : (`h${headingLevel}` as const)
  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      <figcaption className="chart-caption">
        <Heading id={`${id}-title`} className={headingLevel === null ? 'chart-unseen' : undefined}>
          {title}
        </Heading>
      </figcaption>
      <div ref={ref} className="chart-frame">
        {ramp === null ? (
          <p className="chart-empty">No test yet. The ramp begins with the first one.</p>
        ) : (
          // biome-ignore lint/a11y/useSemanticElements: a drawing with buttons in it
          <svg
            role="group"
            aria-labelledby={`${id}-title`}
            aria-describedby={`${id}-words`}
            viewBox={`0 0 ${ramp.width} ${ramp.height}`}
            width={ramp.width}
            height={ramp.height}
          >
            <PictureMarks picture={ramp} />
            <ToothTargets teeth={ramp.teeth} onOpenTest={onOpenTest} />
          </svg>
        )}
      </div>
      <p id={`${id}-words`} className="chart-unseen">
        {ramp?.sentences.join(' ')}
      </p>
    </figure>
  )
}
