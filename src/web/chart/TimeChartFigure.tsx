import { type KeyboardEvent, useId, useMemo, useState } from 'react'
import { chartTable } from '../../charts/chart-table.ts'
import { describeChart } from '../../charts/describe-chart.ts'
import { layOutTimeChart } from '../../charts/time-chart.ts'
import { pointSentences } from '../../charts/words.ts'
import { ChartDataTable } from './ChartDataTable.tsx'
import { PictureMarks } from './PictureMarks.tsx'
import { PointTargets } from './PointTargets.tsx'
import type { TimeChartFigureProps } from './props.ts'
import { SignalList } from './SignalList.tsx'
import { ToothTargets } from './ToothTargets.tsx'
import { useWidth } from './use-width.ts'

/**
 * A chart over time: the picture, what its letters mean, a line that reads out the point at hand,
 * and its numbers as a table (key T while the chart has the focus).
 */
export function TimeChartFigure(props: TimeChartFigureProps) {
  const { headingLevel = 2, onOpenTest, signalSentences = true, initialWidth = 720 } = props
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(initialWidth)
  const [active, setActive] = useState<number | null>(null)
  const [showsTable, setShowsTable] = useState(false)
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
  const chart = useMemo(() => {
    if (analysis.points.length === 0) return null
    return layOutTimeChart({
      ...spec,
      width: Math.max(280, width),
      heading: false,
      ...(textScale === undefined ? {} : { textScale }),
      ...(height === undefined ? {} : { height }),
    })
  }, [spec, analysis, width, textScale, height])
  const sentences = useMemo(() => pointSentences(spec), [spec])
  const description = useMemo(() => describeChart(spec), [spec])
  const table = useMemo(() => (showsTable ? chartTable(spec) : null), [showsTable, spec])

  function onKeyDown(event: KeyboardEvent) {
    if (event.key.toLowerCase() !== 't' || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    setShowsTable((shown) => !shown)
  }

  const Heading = headingLevel === null ? null : (`h${headingLevel}` as const)
  const sentence = active === null ? undefined : sentences[active]
  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      {/* The picture below is described by the same words, so nothing is said twice. */}
      <figcaption className="chart-caption">
        {Heading === null ? (
          <span id={`${id}-title`} className="chart-unseen">
            {title}
          </span>
        ) : (
          <Heading id={`${id}-title`}>{title}</Heading>
        )}
        {subtitle !== undefined && <p className="chart-subtitle">{subtitle}</p>}
      </figcaption>
      <div ref={ref} className="chart-frame">
        {chart === null ? (
          <p className="chart-empty">No data yet. The chart appears with the first value.</p>
        ) : (
          // biome-ignore lint/a11y/useSemanticElements: a drawing with parts to step through
          <svg
            role="group"
            aria-roledescription="chart"
            aria-labelledby={`${id}-title`}
            aria-describedby={`${id}-words`}
            viewBox={`0 0 ${chart.width} ${chart.height}`}
            width={chart.width}
            height={chart.height}
            onKeyDown={onKeyDown}
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
        )}
      </div>
      <p id={`${id}-words`} className="chart-unseen">
        {description.text}
      </p>
      {chart !== null && (
        <div className="chart-foot">
          <p className="chart-readout">
            {sentence === undefined ? (
              <span className="chart-hint">Choose a point to read it.</span>
            ) : (
              <span aria-hidden="true">{sentence}</span>
            )}
          </p>
          <button
            type="button"
            className="chart-button"
            aria-expanded={showsTable}
            aria-keyshortcuts="T"
            onClick={() => setShowsTable(!showsTable)}
          >
            {showsTable ? 'Hide the table' : 'Show as table'}
          </button>
        </div>
      )}
      {signalSentences && <SignalList signals={description.signals} />}
      {table !== null && <ChartDataTable table={table} caption={`Data of ${title}`} />}
    </figure>
  )
}
