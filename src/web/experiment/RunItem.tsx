import { useState } from 'react'
import type { Experiment, ExperimentFactor, ExperimentRun } from '../../domain/experiment-record.ts'
import { levelText, responseStyle, responseText } from '../../domain/experiment-words.ts'
import { useBoardPart } from '../cycle/save-board.ts'
import { call } from '../lib/api.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { focusNow } from '../measure/focus-now.ts'
import { ValueField } from '../measure/ValueField.tsx'
import { Button } from '../ui/Button.tsx'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'
import { putRun } from './experiment-query.ts'

export interface RunItemProps {
  readonly experiment: Experiment
  readonly factors: readonly ExperimentFactor[]
  readonly run: ExperimentRun
  readonly before: ExperimentRun | null
  readonly mayWrite: boolean
}

const LABELS = { response: 'Response', note: 'Note', leftOutReason: 'Left out because' } as const

/** One run: how it is done, and what came out. */
export function RunItem({ experiment, factors, run, before, mayWrite }: RunItemProps) {
  const editing = useRecordEditor<ExperimentRun>(
    `experiment-run:${run.id}`,
    run,
    async ({ response, note, leftOutReason }, version) => {
      const saved = await call('PATCH /api/experiment-runs/:id', {
        params: { id: run.id },
        body: {
          ...(response === undefined ? {} : { response }),
          ...(note === undefined ? {} : { note }),
          ...(leftOutReason === undefined ? {} : { leftOutReason }),
          version,
        },
      })
      putRun(saved)
      return saved
    },
  )
  const { values, set, flush, status, error } = editing
  const [unread, setUnread] = useState(false)
  useBoardPart(`run:${run.id}`, { status, error, unread, flush })
  const style = responseStyle(experiment.responseKind)
  const label = `Response of run ${run.position}`
  return (
    <li className={values.leftOutReason === null ? 'run' : 'run left-out'} data-run={run.id}>
      <h2 className="run-number">Run {run.position}</h2>
      <dl className="run-levels">
        {factors.map((factor, i) => {
          const level = levelText(factor, run.levels[i]!)
          const changed = before !== null && before.levels[i] !== run.levels[i]
          return (
            <div key={factor.id}>
              <dt>{factor.name}</dt>
              <dd>{changed ? <b>{level}</b> : level}</dd>
            </div>
          )
        })}
      </dl>
      {mayWrite ? (
        <>
          <div className="run-response">
            <ValueField
              measure={style}
              label={label}
              value={values.response}
              onChange={(value) => set('response', value)}
              onBlur={() => void flush()}
              error={status === 'refused' ? (error?.message ?? null) : null}
              draftKey={`experiment-run:${run.id}:text`}
              onUnread={setUnread}
            />
          </div>
          <div className="run-note">
            <TextField
              label={`Note on run ${run.position}`}
              value={values.note}
              onChange={(value) => set('note', value)}
              onBlur={() => void flush()}
            />
          </div>
          <LeaveOut run={run} values={values} flush={flush} />
        </>
      ) : (
        <>
          <p className="run-response">
            {run.response === null ? 'No response yet' : responseText(experiment, run.response)}
          </p>
          {run.note !== '' && <p className="run-note">{run.note}</p>}
          {run.leftOutReason !== null && <p>Left out: {run.leftOutReason}</p>}
        </>
      )}
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(field, value) =>
          field === 'response' && typeof value === 'number'
            ? responseText(experiment, value)
            : value === null || value === ''
              ? '(empty)'
              : String(value)
        }
      />
    </li>
  )
}

interface LeaveOutProps {
  readonly run: ExperimentRun
  readonly values: ExperimentRun
  readonly flush: (again?: 'again') => Promise<boolean>
}

/** Leaves a run out with its reason, or counts it again. The response is kept either way. */
function LeaveOut({ run, values, flush }: LeaveOutProps) {
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [asked, setAsked] = useState(false)
  const action = useAction()
  const change = (leftOutReason: string | null, version: number | null = null) =>
    action.run(async () => {
      if (!(await flush('again'))) return
      const saved = await call('PATCH /api/experiment-runs/:id', {
        params: { id: run.id },
        body: { leftOutReason, version: version ?? values.version },
      })
      putRun(saved)
      setOpen(false)
      setReason('')
      if (leftOutReason !== null)
        offerUndo(`Run ${run.position} no longer counts.`, () => change(null, saved.version))
    })
  const leave = () => {
    setAsked(true)
    if (reason.trim() !== '') void change(reason.trim())
  }
  return (
    <div className="run-leave">
      {values.leftOutReason !== null ? (
        <>
          <p className="small">Left out: {values.leftOutReason}</p>
          <Button look="quiet" className="small" onClick={() => void change(null)}>
            Count it again<span className="hidden-text"> (run {run.position})</span>
          </Button>
        </>
      ) : open ? (
        <form
          noValidate
          className="row"
          onSubmit={(event) => {
            event.preventDefault()
            leave()
          }}
        >
          <TextField
            label={`Why does run ${run.position} not count?`}
            hint="It is kept, with this reason."
            value={reason}
            onChange={setReason}
            inputRef={focusNow}
            error={asked && reason.trim() === '' ? 'Write the reason.' : null}
          />
          <Button type="submit">Leave it out</Button>
          <Button look="quiet" onClick={() => setOpen(false)}>
            Keep it
          </Button>
        </form>
      ) : (
        <Button look="quiet" className="small" onClick={() => setOpen(true)}>
          Leave out<span className="hidden-text"> run {run.position}</span>
        </Button>
      )}
      {action.error !== null && <ErrorNotice error={action.error} />}
    </div>
  )
}
