import { useLocation } from 'wouter'
import { RULE_SETS } from '../../stats/rules.ts'
import { TimeChartFigure } from '../chart/TimeChartFigure.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { FalseSignalLine } from './FalseSignalLine.tsx'
import { CHART_NAMES } from './kinds.ts'
import type { MeasureChart } from './measure-chart.ts'
import { readerDates } from './reader-dates.ts'

export interface ChartBlockProps {
  readonly chart: MeasureChart
}

/** The chart of a measure, what its letters mean, which rules it keeps, and what to be careful with. */
export function ChartBlock({ chart }: ChartBlockProps) {
  const [, navigate] = useLocation()
  if (chart.problem !== null) {
    return (
      <ErrorNotice error={chart.problem}>
        <p>The data below are safe; the chart comes back once this is put right.</p>
      </ErrorNotice>
    )
  }
  if (chart.spec === null) {
    return (
      <p className="chart-none">
        No data yet. The chart appears here with the first value typed or pasted below.
      </p>
    )
  }
  const { analysis } = chart
  const rules = RULE_SETS[analysis.ruleSet]
  return (
    <div className="chart-block">
      <TimeChartFigure
        {...chart.spec}
        headingLevel={null}
        onOpenTest={(id) => navigate(`/tests/${id}`)}
      />
      <div className="chart-words">
        {analysis.signals.length === 0 && (
          <p>
            No signal: nothing here sets these points apart from chance. That alone does not show
            that nothing changed.
          </p>
        )}
        <p className="small soft">
          {CHART_NAMES[analysis.kind]}.{' '}
          {analysis.ruleSet === 'none'
            ? 'No rules are applied, so no signals are looked for.'
            : `Rule set: ${rules.name} (${rules.source}).`}
        </p>
        {analysis.ruleSet !== 'none' && <FalseSignalLine analysis={analysis} />}
        {analysis.notes.map(({ code, text }) => (
          <p key={code + text} className="small soft">
            {readerDates(text)}
          </p>
        ))}
      </div>
    </div>
  )
}
