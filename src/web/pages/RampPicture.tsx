import { useMemo } from 'react'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import { formatValue } from '../../domain/value-text.ts'
import { RampFigure } from '../chart/RampFigure.tsx'
import { chartTestOf, scaleOf, unitOf } from '../measure/measure-chart.ts'
import { rampMeasure } from './ramps.ts'

export interface RampPictureProps {
  /** One chain, in order of number. */
  readonly tests: readonly CycleBrief[]
  readonly measures: readonly MeasureData[]
  readonly onOpenTest: (id: string) => void
}

/** A chain of tests drawn on the measure that most of them predict. */
export function RampPicture({ tests, measures, onOpenTest }: RampPictureProps) {
  const measureId = rampMeasure(tests)
  const data = measures.find(({ measure }) => measure.id === measureId)
  const spec = useMemo(() => {
    if (data === undefined) return null
    const { measure } = data
    return {
      title: `Predicted and found: ${measure.name}`,
      tests: tests.map((test) => ({
        ...chartTestOf(test, data),
        buildsOn: test.cycle.buildsOnId,
      })),
      format: (value: number) => formatValue(measure, value),
      scale: scaleOf(measure),
      unitLabel: unitOf(measure),
      better: measure.better,
      goal: measure.goal,
    }
  }, [tests, data])
  if (spec === null) return null
  return <RampFigure {...spec} headingLevel={4} onOpenTest={onOpenTest} />
}
