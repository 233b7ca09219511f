import { useCallback, useId, useMemo } from 'react'
import type { ChartTable } from '../../charts/chart-table.ts'
import { type EffectChartSpec, layOutEffectChart } from '../../charts/effect-chart.ts'
import { effectSentences } from '../../charts/effect-words.ts'
import { layOutResiduals, type ResidualChartSpec } from '../../charts/residual-chart.ts'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { PointedFigure } from '../chart/PointedFigure.tsx'
import { ToothTargets } from '../chart/ToothTargets.tsx'
import { useWidth } from '../chart/use-width.ts'

export interface EffectFigureProps {
  readonly spec: Omit<EffectChartSpec, 'width'>
  readonly title: string
  /** What the picture shows, in words. */
  readonly description: string
  readonly table: () => ChartTable
  readonly tableCaption: string
  readonly onOpenTest: (id: string) => void
}

/** The lines before and after a break, with what lies between them. */
export function EffectFigure(props: EffectFigureProps) {
  const { spec, description, onOpenTest } = props
  const layOut = useCallback((width: number) => layOutEffectChart({ ...spec, width }), [spec])
  const words = useMemo(
    () => ({ text: description, points: effectSentences(spec) }),
    [description, spec],
  )
  return (
    <PointedFigure
      title={props.title}
      headingLevel={null}
      layOut={layOut}
      words={words}
      table={props.table}
      tableCaption={props.tableCaption}
      least={280}
      more={(chart) => <ToothTargets teeth={chart.teeth} onOpenTest={onOpenTest} />}
    />
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
