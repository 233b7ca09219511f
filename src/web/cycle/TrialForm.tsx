import { useEffect, useRef, useState } from 'react'
import type { CycleReply, MeasureData } from '../../api/contract.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { columnsOf } from '../measure/grid-columns.ts'
import { EMPTY_CELLS, type GridRow, readRow } from '../measure/grid-row.ts'
import { READER_ORDER, showDate } from '../measure/show-date.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'
import { patchCycle } from './cycle-query.ts'

export interface TrialFormProps {
  readonly data: CycleReply
  readonly predicted: readonly MeasureData[]
  readonly onClose: () => void
}

/** One trial: a value of each predicted measure and a note, saved together. */
export function TrialForm({ data, predicted, onClose }: TrialFormProps) {
  const { cycle } = data
  const form = useDraft<Record<string, string>>(`trial:${cycle.id}`, { note: '' })
  const [asked, setAsked] = useState(false)
  const action = useAction()
  const root = useRef<HTMLFormElement>(null)
  useEffect(() => root.current?.querySelector('input')?.focus(), [])
  const text = (measureId: string, key: string) => form.values[`${measureId}:${key}`] ?? ''

  const read = predicted.map(({ measure }) => {
    const columns = columnsOf(measure).filter(({ key }) => key !== 'at' && key !== 'note')
    const cells = { ...EMPTY_CELLS, at: '2000-01-01' }
    for (const { key } of columns) cells[key] = text(measure.id, key)
    const row: GridRow = { id: measure.id, cells, leftOutReason: null, record: null }
    const reading = readRow(measure, row, READER_ORDER, showDate)
    const empty = columns.some(({ key }) => cells[key].trim() === '')
    return { measure, columns, reading, empty }
  })
  const blocked = read.some(({ reading }) => reading.save === null)
  const none = read.every(({ empty }) => empty)

  const save = async () => {
    setAsked(true)
    if (blocked || none) {
      root.current?.querySelector<HTMLElement>('[aria-invalid="true"], input')?.focus()
      return
    }
    const at = new Date().toISOString()
    const fine = await action.run(async () => {
      const { trial, observations } = await call('POST /api/cycles/:id/trials', {
        params: { id: cycle.id },
        body: {
          id: newId(),
          at,
          note: (form.values['note'] ?? '').trim(),
          observations: read
            .filter(({ empty }) => !empty)
            .map(({ measure, reading }) => {
              const { value, numerator, denominator } = reading.save!
              return {
                id: newId(),
                measureId: measure.id,
                at,
                value,
                numerator,
                denominator,
                note: '',
                leftOutReason: null,
              }
            }),
        },
      })
      patchCycle(cycle.id, (old) => ({
        ...old,
        trials: [...old.trials, trial],
        measures: old.measures.map((m) => ({
          ...m,
          observations: [
            ...m.observations,
            ...observations.filter((o) => o.measureId === m.measure.id),
          ],
        })),
      }))
    })
    if (!fine) return
    form.clear()
    setAsked(false)
    // Ready for the next round at once.
    root.current?.querySelector('input')?.focus()
  }

  return (
    <form
      ref={root}
      noValidate
      className="trial-form"
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      {read.map(({ measure, columns, reading }) => (
        <fieldset key={measure.id} className="trial-values">
          <legend>{measure.name}</legend>
          <div className="row baseline">
            {columns.map(({ key, label, hint }) => {
              const issue = reading.issues.find((i) => i.key === key)
              return (
                <div key={key} className="value-field" data-focus-home="input">
                  <TextField
                    label={label}
                    hint={hint}
                    short
                    inputMode={measure.valueFormat === 'duration' ? 'text' : 'decimal'}
                    value={text(measure.id, key)}
                    onChange={(value) => form.set(`${measure.id}:${key}`, value)}
                    error={asked && issue?.choices === undefined ? issue?.message : null}
                  />
                  <div aria-live="polite" className="value-question">
                    {issue?.choices !== undefined && (
                      <>
                        <p>{issue.message}</p>
                        <div className="row">
                          {issue.choices.map((choice) => (
                            <Button
                              key={choice.text}
                              onClick={() => form.set(`${measure.id}:${key}`, choice.text)}
                            >
                              {choice.label}
                            </Button>
                          ))}
                        </div>
                      </>
                    )}
                  </div>
                </div>
              )
            })}
          </div>
        </fieldset>
      ))}
      <TextField
        label="Note"
        optional
        value={form.values['note'] ?? ''}
        onChange={(value) => form.set('note', value)}
      />
      {asked && none && (
        <p className="field-error" role="alert">
          Type the value of at least one measure.
        </p>
      )}
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button type="submit" look="main" busy={action.busy} busyText="Saving…">
          Save the trial
        </Button>
        <Button look="quiet" onClick={onClose}>
          Close
        </Button>
      </div>
    </form>
  )
}
