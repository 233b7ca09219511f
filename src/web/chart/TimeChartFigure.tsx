import { useCallback, useMemo } from 'react'
import { chartTable } from '../../charts/chart-table.ts'
import { describeChart } from '../../charts/describe-chart.ts'
import { layOutTimeChart } from '../../charts/time-chart.ts'
import { pointSentences } from '../../charts/words.ts'
import { PointedFigure } from './PointedFigure.tsx'
import type { TimeChartFigureProps } from './props.ts'
import { SignalList } from './SignalList.tsx'
import { ToothTargets } from './ToothTargets.tsx'

/** A chart over time, with what its letters mean. */
export function TimeChartFigure(props: TimeChartFigureProps) {
  const { headingLevel = 2, onOpenTest, signalSentences = true, initialWidth = 720 } = props
  const { title, subtitle, analysis, format, scale, unitLabel, better, goal, annotations, tests } =
    props
  const { textScale, height } = props

  const spec = useMemo(
    () => ({
      title,
      analysis,
      format,
      ...(subtitle === undefined ? {} : { subtitle }),
      ...(scale === undefined ? {} : { scale }),
      ...(unitLabel === undefined ? {} : { unitLabel }),
      ...(better === undefined ? {} : { better }),
      ...(goal === undefined ? {} : { goal }),
      ...(annotations === undefined ? {} : { annotations }),
      ...(tests === undefined ? {} : { tests }),
    }),
    [title, subtitle, analysis, format, scale, unitLabel, better, goal, annotations, tests],
  )
  const layOut = useCallback(
    (width: number) =>
      analysis.points.length === 0
        ? null
        : layOutTimeChart({
            ...spec,
            width,
            heading: false,
            ...(textScale === undefined ? {} : { textScale }),
            ...(height === undefined ? {} : { height }),
          }),
    [spec, analysis, textScale, height],
  )
  const description = useMemo(() => describeChart(spec), [spec])
  const words = useMemo(
    () => ({ text: description.text, points: pointSentences(spec) }),
    [description, spec],
  )
  const table = useCallback(() => chartTable(spec), [spec])
  return (
    <PointedFigure
      title={title}
      headingLevel={headingLevel}
      subtitle={subtitle}
      layOut={layOut}
      words={words}
      table={table}
      least={280}
      initialWidth={initialWidth}
      more={(chart) => <ToothTargets teeth={chart.teeth} onOpenTest={onOpenTest} />}
    >
      {signalSentences && <SignalList signals={description.signals} />}
    </PointedFigure>
  )
}
