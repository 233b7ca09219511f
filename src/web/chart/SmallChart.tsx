import { useId, useMemo } from 'react'
import { describeChart } from '../../charts/describe-chart.ts'
import { layOutSmallChart, type SmallChartSpec } from '../../charts/small-chart.ts'
import { PictureMarks } from './PictureMarks.tsx'
import { useWidth } from './use-width.ts'

export interface SmallChartProps extends Omit<SmallChartSpec, 'width'> {
  /** Width before the browser has measured the space. Default 280. */
  readonly initialWidth?: number
}

/** A chart the size of a sentence, with the same description as the large one. */
export function SmallChart({ initialWidth = 280, ...spec }: SmallChartProps) {
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(initialWidth)
  const { analysis, format, height, textScale } = spec
  // biome-ignore lint/correctness/useExhaustiveDependencies: only these decide the picture
  const chart = useMemo(
    () => layOutSmallChart({ ...spec, width: Math.max(120, width) }),
    [analysis, format, height, textScale, width],
  )
  return (
    <div ref={ref} className="chart-small">
      <svg
        role="img"
        aria-labelledby={`${id}-title`}
        viewBox={`0 0 ${chart.width} ${chart.height}`}
        width={chart.width}
        height={chart.height}
      >
        <title id={`${id}-title`}>{describeChart(spec).text}</title>
        <PictureMarks picture={chart} />
      </svg>
    </div>
  )
}
