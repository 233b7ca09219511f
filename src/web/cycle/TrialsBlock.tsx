import { useState } from 'react'
import type { CycleReply, MeasureData } from '../../api/contract.ts'
import type { Observation, Trial } from '../../domain/record.ts'
import { formatNumber, formatValue } from '../../domain/value-text.ts'
import { call } from '../lib/api.ts'
import { formatInstant } from '../lib/dates.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { focusNow } from '../measure/focus-now.ts'
import { hasDenominator } from '../measure/grid-columns.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'
import { patchCycle } from './cycle-query.ts'
import { TrialForm } from './TrialForm.tsx'

/** Tries of the change: one value of every predicted measure at once. */
export function TrialsBlock({ data }: { readonly data: CycleReply }) {
  const { cycle, trials } = data
  const predicted = data.measures.filter((m) =>
    data.predictions.some((p) => p.measureId === m.measure.id),
  )
  const [open, setOpen] = useState(false)
  const [voiding, setVoiding] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const [asked, setAsked] = useState(false)
  const action = useAction()

  const change = (trial: Trial, voidReason: string | null) =>
    action.run(async () => {
      const saved = await call('PATCH /api/trials/:id', {
        params: { id: trial.id },
        body: { voidReason, version: trial.version },
      })
      // Its values are left out for the same reason, or count again.
      const left = (o: Observation): Observation =>
        o.trialId === trial.id && o.leftOutReason === trial.voidReason
          ? { ...o, leftOutReason: voidReason, version: o.version + 1 }
          : o
      patchCycle(cycle.id, (old) => ({
        ...old,
        trials: old.trials.map((t) => (t.id === saved.id ? saved : t)),
        measures: old.measures.map((m) => ({ ...m, observations: m.observations.map(left) })),
      }))
      if (voidReason !== null) {
        offerUndo(`Trial ${trial.number} no longer counts.`, () => change(saved, null))
      }
    })
  const voidTrial = async (trial: Trial) => {
    setAsked(true)
    if (reason.trim() === '') return
    if (await change(trial, reason.trim())) {
      setVoiding(null)
      setReason('')
      setAsked(false)
    }
  }

  return (
    <div className="plan-group trials">
      <h3>Trials</h3>
      <p className="soft">
        A trial is one try of the change, such as a round or a shift, with one value of each
        predicted measure.
      </p>
      {trials.length > 0 && (
        <div className="table-scroll">
          <table className="plain-table trial-table">
            <thead>
              <tr>
                <th scope="col">Trial</th>
                {predicted.map(({ measure }) => (
                  <th key={measure.id} scope="col">
                    {measure.name}
                  </th>
                ))}
                <th scope="col">Note</th>
                <th scope="col">
                  <span className="hidden-text">What can be done</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {trials.map((trial) => (
                <tr key={trial.id} className={trial.voidReason === null ? undefined : 'void'}>
                  <th scope="row">
                    {trial.number}
                    <span className="small soft"> {formatInstant(trial.at)}</span>
                  </th>
                  {predicted.map((m) => (
                    <td key={m.measure.id}>{trialValue(m, trial)}</td>
                  ))}
                  <td>
                    {trial.note}
                    {trial.voidReason !== null && <p>Does not count: {trial.voidReason}</p>}
                  </td>
                  <td>
                    {trial.voidReason === null ? (
                      <Button look="quiet" className="small" onClick={() => setVoiding(trial.id)}>
                        Void<span className="hidden-text"> trial {trial.number}</span>
                      </Button>
                    ) : (
                      <Button
                        look="quiet"
                        className="small"
                        onClick={() => void change(trial, null)}
                      >
                        Count it again
                        <span className="hidden-text"> (trial {trial.number})</span>
                      </Button>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {trials
        .filter((trial) => trial.id === voiding)
        .map((trial) => (
          <form
            noValidate
            key={trial.id}
            className="row inline-form"
            onSubmit={(event) => {
              event.preventDefault()
              void voidTrial(trial)
            }}
          >
            <TextField
              label={`Why does trial ${trial.number} not count?`}
              hint="It is kept, with this reason."
              value={reason}
              onChange={setReason}
              inputRef={focusNow}
              error={asked && reason.trim() === '' ? 'Write the reason.' : null}
            />
            <Button type="submit">Void the trial</Button>
            <Button look="quiet" onClick={() => setVoiding(null)}>
              Keep it
            </Button>
          </form>
        ))}
      {action.error !== null && <ErrorNotice error={action.error} />}
      {open ? (
        <TrialForm data={data} predicted={predicted} onClose={() => setOpen(false)} />
      ) : (
        <div className="row">
          <Button onClick={() => setOpen(true)}>Record a trial</Button>
        </div>
      )}
    </div>
  )
}

function trialValue({ measure, observations }: MeasureData, trial: Trial): string {
  const own = observations.find((o) => o.trialId === trial.id)
  if (own === undefined) return '–'
  if (!hasDenominator(measure.dataKind)) return formatValue(measure, own.value)
  const { numerator, denominator } = own
  if (numerator === null || denominator === null) return '–'
  return `${formatNumber(numerator)} of ${formatNumber(denominator)}`
}
