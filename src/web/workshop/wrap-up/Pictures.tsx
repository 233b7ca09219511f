import { useId, useMemo } from 'react'
import { layOutAgreement } from '../../../charts/agreement-chart.ts'
import { layOutClosingIn } from '../../../charts/closing-in.ts'
import type { Picture } from '../../../charts/marks.ts'
import type { TimerAgreement } from '../../../domain/workshop/wrap-up-agreement.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'
import { PictureMarks } from '../../chart/PictureMarks.tsx'
import { usePrintedWidth } from './use-printed-width.ts'

interface DrawnProps {
  readonly title: string
  readonly caption: string
  readonly layOut: (width: number) => Picture
}

/** A picture with its title above and what it shows below. */
function Drawn({ title, caption, layOut }: DrawnProps) {
  const id = useId()
  const [ref, width] = usePrintedWidth<HTMLDivElement>(720, 'full')
  const picture = useMemo(() => layOut(Math.max(240, width)), [layOut, width])
  return (
    <figure className="chart wrap-figure" aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      <div ref={ref} className="chart-frame">
        <svg
          role="img"
          aria-label={title}
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          width={picture.width}
          height={picture.height}
        >
          <PictureMarks picture={picture} />
        </svg>
      </div>
      <figcaption className="small">{caption}</figcaption>
    </figure>
  )
}

export interface ClosingInProps {
  readonly rows: readonly RoundRow[]
  readonly single: boolean
}

/** Predictions of time over what came, by round. */
export function ClosingIn({ rows, single }: ClosingInProps) {
  const ranges = useMemo(
    () =>
      rows.flatMap(({ round, seconds, predictions }) => {
        const time = predictions?.time ?? null
        if (time === null || seconds === null || seconds <= 0 || time.low <= 0) return []
        const { low, expected, high } = time
        return [
          { step: round, low: low / seconds, expected: expected / seconds, high: high / seconds },
        ]
      }),
    [rows],
  )
  const layOut = useMemo(
    () => (width: number) => layOutClosingIn({ ranges, width, stepName: 'round' }),
    [ranges],
  )
  if (ranges.length === 0) return null
  return (
    <Drawn
      title="Predicted times against what came"
      caption={
        single
          ? 'Each tick is a predicted time over the time it took; the line at 1 is what happened. Where a class learns, the ticks come closer to the line from left to right.'
          : 'Each bracket is a predicted range of time over the time it took; the line at 1 is what happened. A bracket that crosses the line held. Where a class learns, the brackets close in on the line from left to right.'
      }
      layOut={layOut}
    />
  )
}

/** How far two timers of one trial differ. */
export function TwoTimers({ timers }: { readonly timers: TimerAgreement }) {
  const { pairs, figures } = timers
  const layOut = useMemo(
    () => (width: number) =>
      layOutAgreement({
        pairs: pairs.map(({ first, second }) => ({
          mean: (first + second) / 2,
          difference: first - second,
        })),
        limits:
          figures === null
            ? null
            : {
                bias: figures.bias.estimate,
                lower: figures.lowerLimit.estimate,
                upper: figures.upperLimit.estimate,
              },
        width,
      }),
    [pairs, figures],
  )
  if (pairs.length === 0) return null
  const lines =
    figures === null
      ? ''
      : ' The full line is the mean difference, the dashes are the limits of agreement.'
  return (
    <Drawn
      title="Two timers of one trial"
      caption={`Each dot is a trial: the first timer less the second, over their mean. At zero they agree.${lines}`}
      layOut={layOut}
    />
  )
}
