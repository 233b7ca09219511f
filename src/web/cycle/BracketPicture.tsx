import { useMemo } from 'react'
import { useLocation } from 'wouter'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import type { Prediction } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import { RampFigure } from '../chart/RampFigure.tsx'
import { TimeChartFigure } from '../chart/TimeChartFigure.tsx'
import { chartTestOf, measureChart, unitOf } from '../measure/measure-chart.ts'

export interface BracketPictureProps {
  readonly measureData: MeasureData
  readonly test: CycleBrief
  /** Every test of the project: those that predict this measure stand on the rail as well. */
  readonly siblings: readonly CycleBrief[]
  /** The prediction as it stands in the form; left out once it is locked. */
  readonly typed?: Pick<Prediction, 'expected' | 'low' | 'high'>
  readonly height?: number
  readonly signalSentences?: boolean
}

/** A prediction on its measure's chart; on an axis of its own while the measure has no data. */
export function BracketPicture(props: BracketPictureProps) {
  const { measureData, test, siblings, typed, height, signalSentences = false } = props
  const [, navigate] = useLocation()
  const { measure } = measureData
  const expected = typed?.expected
  const low = typed?.low
  const high = typed?.high
  const tests = useMemo(
    () =>
      siblings
        .map((s) => (s.cycle.id === test.cycle.id ? test : s))
        .filter(
          (s) =>
            s.cycle.id === test.cycle.id || s.predictions.some((p) => p.measureId === measure.id),
        ),
    [siblings, test, measure.id],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: the parts of what is typed.
  const chart = useMemo(() => {
    const said = typed === undefined ? {} : { [test.cycle.id]: typed }
    return measureChart(measureData, tests, said)
  }, [measureData, tests, test.cycle.id, expected, low, high])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the parts of what is typed.
  const alone = useMemo(
    () => ({
      title: `Prediction for ${measure.name}`,
      tests: [{ ...chartTestOf(test, measureData, typed), buildsOn: null }],
      format: (value: number) => formatValue(measure, value),
      unitLabel: unitOf(measure),
      better: measure.better,
      goal: measure.goal,
    }),
    [measureData, test, expected, low, high],
  )

  if (chart.problem !== null) {
    return (
      <p className="field-error">
        {chart.problem.message} {chart.problem.hint}
      </p>
    )
  }
  const open = (id: string) => navigate(`/tests/${id}`)
  if (chart.spec === null) return <RampFigure {...alone} headingLevel={null} onOpenTest={open} />
  return (
    <TimeChartFigure
      {...chart.spec}
      headingLevel={null}
      signalSentences={signalSentences}
      onOpenTest={open}
      {...(height === undefined ? {} : { height })}
    />
  )
}
