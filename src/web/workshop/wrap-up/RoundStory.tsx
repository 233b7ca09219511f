import { Fragment } from 'react'
import { formatDuration } from '../../../domain/duration.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'
import { DECIDED, expectationText, outcomeText } from './round-text.ts'

/** A table's rounds in its own words: plan, what came, what was learned, what next. */
export function RoundStory({ rows }: { readonly rows: readonly RoundRow[] }) {
  return (
    <ol className="bare wrap-story">
      {rows.map((row) => (
        <li key={row.state.cycleId} className="stack tight">
          <h3>{`Round ${row.round}`}</h3>
          <dl className="wrap-facts">
            {factsOf(row).map(([label, text]) => (
              <Fragment key={label}>
                <dt>{label}</dt>
                <dd className="pre">{text}</dd>
              </Fragment>
            ))}
          </dl>
        </li>
      ))}
    </ol>
  )
}

function factsOf(row: RoundRow): readonly (readonly [string, string])[] {
  const { state, predictions } = row
  const { decision } = state
  const sure = predictions === null ? '' : `, ${Math.round(predictions.confidence * 100)} % sure`
  const said = (kind: 'time' | 'quality') => {
    const own = predictions?.[kind] ?? null
    const range = own !== null && own.low !== own.high
    return `${expectationText(own, kind)}${range ? sure : ''}; came out at ${outcomeText(row, kind)}`
  }
  const voids = state.trials.filter((trial) => trial.voidReason !== null)
  return (
    [
      ['Strategy', state.strategy],
      ['Time', `Predicted ${said('time')}`],
      ['Timers', timersOf(row)],
      ['Items right', `Predicted ${said('quality')}`],
      ['Why', predictions?.why ?? null],
      ['Not counted', voids.map((trial) => trial.voidReason).join('\n')],
      ['Surprises', state.surprises],
      ['Learned', state.learned],
      ['Prediction', state.predictionReview],
      [
        'Decision',
        decision === null ? 'Not decided' : `${DECIDED[decision.kind]}. ${decision.reason ?? ''}`,
      ],
      ['Next change', decision?.nextChange ?? null],
    ] as const
  ).flatMap(([label, text]) =>
    text === null || text.trim() === '' ? [] : ([[label, text]] as const),
  )
}

/** How its time was taken, where more than one person took it or something stood in the way. */
function timersOf({ state }: RoundRow): string {
  const trial = state.trials.findLast((t) => t.voidReason === null)
  if (trial === undefined) return ''
  const notes = trial.readings.filter((r) => r.note !== '' || r.how !== 'steady-clock')
  if (trial.readings.length < 2 && notes.length === 0) return ''
  const each = trial.readings.map(
    (r) => `${formatDuration(r.seconds)}${r.by === '' ? '' : ` by ${r.by}`}${howOf(r)}`,
  )
  const unsettled = trial.unsettled ? '. They differ; the table has not said which to keep' : ''
  return `${each.join('; ')}${unsettled}`
}

const HOW = {
  'steady-clock': '',
  'device-clock': 'by the clock of day of the device',
  'server-clock': 'settled by the server’s clock',
  typed: 'typed in',
  paper: 'from paper',
} as const

function howOf({ how, note }: RoundRow['state']['trials'][number]['readings'][number]): string {
  const words = [HOW[how], note].filter((word) => word !== '')
  return words.length === 0 ? '' : ` (${words.join('; ')})`
}
