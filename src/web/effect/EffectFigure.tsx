import { useId, useMemo, useState } from 'react'
import { type EffectChartSpec, layOutEffectChart } from '../../charts/effect-chart.ts'
import { effectSentences } from '../../charts/effect-words.ts'
import { layOutResiduals, type ResidualChartSpec } from '../../charts/residual-chart.ts'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { PointTargets } from '../chart/PointTargets.tsx'
import { ToothTargets } from '../chart/ToothTargets.tsx'
import { useWidth } from '../chart/use-width.ts'

export interface EffectFigureProps {
  readonly spec: Omit<EffectChartSpec, 'width'>
  readonly title: string
  /** What the picture shows, in words. */
  readonly description: string
  readonly onOpenTest: (id: string) => void
}

/** The lines before and after a break, with what lies between them. */
export function EffectFigure({ spec, title, description, onOpenTest }: EffectFigureProps) {
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(720)
  const [active, setActive] = useState<number | null>(null)
  const sentences = useMemo(() => effectSentences(spec), [spec])
  const chart = useMemo(
    () => layOutEffectChart({ ...spec, width: Math.max(280, width) }),
    [spec, width],
  )
  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      <div ref={ref} className="chart-frame">
        {/* biome-ignore lint/a11y/useSemanticElements: a drawing with parts to step through */}
        <svg
          role="group"
          aria-roledescription="chart"
          aria-labelledby={`${id}-title`}
          aria-describedby={`${id}-words`}
          viewBox={`0 0 ${chart.width} ${chart.height}`}
          width={chart.width}
          height={chart.height}
        >
          <PictureMarks picture={chart} />
          <PointTargets
            points={chart.points}
            sentences={sentences}
            active={active}
            onActive={setActive}
            radius={8 * chart.unit}
          />
          <ToothTargets teeth={chart.teeth} onOpenTest={onOpenTest} />
        </svg>
        <span id={`${id}-title`} className="chart-unseen">
          {title}
        </span>
        <span id={`${id}-words`} className="chart-unseen">
          {description}
        </span>
      </div>
      <div className="chart-foot">
        <p className="chart-readout">
          {active === null || sentences[active] === undefined ? (
            <span className="chart-hint">Choose a point to read it.</span>
          ) : (
            <span aria-hidden="true">{sentences[active]}</span>
          )}
        </p>
      </div>
    </figure>
  )
}

/** How far each point lies from its line. */
export function ResidualFigure({
  title,
  ...spec
}: Omit<ResidualChartSpec, 'width'> & { readonly title: string }) {
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(720)
  const { at, residuals } = spec
  const picture = useMemo(
    () => layOutResiduals({ at, residuals, width: Math.max(120, width) }),
    [at, residuals, width],
  )
  return (
    <div ref={ref} className="chart-frame">
      <svg
        role="img"
        aria-labelledby={id}
        viewBox={`0 0 ${picture.width} ${picture.height}`}
        width={picture.width}
        height={picture.height}
      >
        <title id={id}>{title}</title>
        <PictureMarks picture={picture} />
      </svg>
    </div>
  )
}
