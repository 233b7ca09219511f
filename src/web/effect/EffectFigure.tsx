import { useId, useMemo } from 'react'
import { type EffectChartSpec, layOutEffectChart } from '../../charts/effect-chart.ts'
import { layOutResiduals, type ResidualChartSpec } from '../../charts/residual-chart.ts'
import { PictureMarks } from '../chart/PictureMarks.tsx'
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
  const chart = useMemo(
    () => layOutEffectChart({ ...spec, width: Math.max(280, width) }),
    [spec, width],
  )
  return (
    <div ref={ref} className="chart-frame">
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing with buttons in it */}
      <svg
        role="group"
        aria-labelledby={`${id}-title`}
        aria-describedby={`${id}-words`}
        viewBox={`0 0 ${chart.width} ${chart.height}`}
        width={chart.width}
        height={chart.height}
      >
        <PictureMarks picture={chart} />
        <ToothTargets teeth={chart.teeth} onOpenTest={onOpenTest} />
      </svg>
      <span id={`${id}-title`} className="chart-unseen">
        {title}
      </span>
      <span id={`${id}-words`} className="chart-unseen">
        {description}
      </span>
    </div>
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
