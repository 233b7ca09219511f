import { useId, useMemo } from 'react'
import { layOutFan } from '../../charts/fan-chart.ts'
import type { SignalPlan } from '../../domain/planner.ts'
import type { PlannerBaseline } from '../../domain/planner-baseline.ts'
import { fanOf } from '../../domain/planner-fan.ts'
import { pointsText } from '../../domain/planner-text.ts'
import type { Measure, Prediction } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { useWidth } from '../chart/use-width.ts'

export interface FanFigureProps {
  readonly measure: Measure
  readonly baseline: PlannerBaseline
  readonly plan: SignalPlan
  readonly typed: Pick<Prediction, 'low' | 'high'>
}

/** Points shown from before the test, and most shown after it. */
const RECENT = 12
const MOST_AHEAD = 40

/** What may come after the test begins: if the prediction holds, and if nothing changes. */
export function FanFigure({ measure, baseline, plan, typed }: FanFigureProps) {
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(560)
  const { low, high } = typed
  const picture = useMemo(() => {
    const { median, for90 } = plan
    const ahead = Math.min(MOST_AHEAD, Math.max(4, for90 ?? median ?? MOST_AHEAD))
    const whole = low !== null && high !== null && low <= plan.after && plan.after <= high
    return layOutFan({
      recent: baseline.values.slice(-RECENT),
      center: baseline.level,
      lower: baseline.lower,
      upper: baseline.upper,
      bracket: whole ? { low, expected: plan.after, high } : null,
      predicted: fanOf(baseline, plan.after, ahead),
      unchanged: fanOf(baseline, plan.before, ahead),
      ticks: [
        ...(median === null || median === for90 ? [] : [{ at: median, text: 'half of the time' }]),
        ...(for90 === null ? [] : [{ at: for90, text: '9 times in 10' }]),
      ],
      word: baseline.rhythm.word,
      format: (value) => formatValue(measure, value),
      width: Math.max(260, width),
    })
  }, [measure, baseline, plan, low, high, width])
  const show = (value: number) => formatValue(measure, value)
  return (
    <figure className="chart planner-fan" aria-labelledby={id}>
      <div ref={ref} className="chart-frame">
        <svg
          role="img"
          aria-label="What may come after the test begins"
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          width={picture.width}
          height={picture.height}
        >
          <PictureMarks picture={picture} />
        </svg>
      </div>
      <figcaption id={id} className="small">
        The mean since the test began lies in the solid fan 8 times in 10 if the prediction of{' '}
        {show(plan.after)} holds, and in the dashed one if it stays at {show(plan.before)}. Both
        narrow as points come in; where they part, the data can tell.
        {plan.median !== null &&
          ` The chart shows the change within ${pointsText(baseline.rhythm, plan.median)} half of the time.`}
      </figcaption>
    </figure>
  )
}
