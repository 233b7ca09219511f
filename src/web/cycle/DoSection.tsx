import { useCallback, useState } from 'react'
import type { CycleReply } from '../../api/contract.ts'
import type { Cycle, Id } from '../../domain/record.ts'
import type { Action } from '../lib/use-action.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { Button } from '../ui/Button.tsx'
import { DateField } from '../ui/DateField.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { ObservationsBlock } from './ObservationsBlock.tsx'
import { TrialsBlock } from './TrialsBlock.tsx'

export interface DoSectionProps {
  readonly data: CycleReply
  readonly editing: Editing<Cycle>
  readonly reload: () => void
  readonly action: Action
  readonly onDone: () => void
}

/** Do: when it really ran, what was seen, what went wrong. */
export function DoSection({ data, editing, reload, action, onDone }: DoSectionProps) {
  const { values, set, flush } = editing
  const [unsaved, setUnsaved] = useState<Readonly<Record<Id, number>>>({})
  const [asked, setAsked] = useState(false)
  const onUnsaved = useCallback(
    (measureId: Id, count: number) =>
      setUnsaved((old) => (old[measureId] === count ? old : { ...old, [measureId]: count })),
    [],
  )
  const waiting = Object.values(unsaved).reduce((sum, count) => sum + count, 0)
  const onBlur = () => void flush()
  // A classroom exercise runs in trials; a ward mostly writes down one measure after the other.
  const inTrials = data.trials.length > 0 || values.determination === 'exercise'
  const reversed =
    values.ranFrom !== null && values.ranTo !== null && values.ranTo < values.ranFrom
      ? 'The last day is before the first.'
      : null
  // Typed observations that nobody saved must not be left behind.
  const finish = () => {
    setAsked(true)
    if (waiting === 0) onDone()
    else document.querySelector<HTMLElement>('.observations .button.main')?.focus()
  }
  return (
    <>
      <div className="plan-group dates">
        <DateField
          label="Really ran from"
          value={values.ranFrom}
          onChange={(value) => set('ranFrom', value)}
          onBlur={onBlur}
        />
        <DateField
          label="to"
          hint="Left open while it runs"
          value={values.ranTo}
          onChange={(value) => set('ranTo', value)}
          onBlur={onBlur}
          error={reversed}
        />
      </div>
      {inTrials && <TrialsBlock data={data} />}
      <ObservationsBlock data={data} reload={reload} onUnsaved={onUnsaved} />
      {!inTrials && <TrialsBlock data={data} />}
      <div className="plan-group">
        <TextArea
          label="What happened"
          hint="As it was, not as it was planned"
          rows={3}
          value={values.happened}
          onChange={(value) => set('happened', value)}
          onBlur={onBlur}
        />
        <TextArea
          label="What went wrong"
          value={values.wentWrong}
          onChange={(value) => set('wentWrong', value)}
          onBlur={onBlur}
        />
        <TextArea
          label="Surprises"
          value={values.surprises}
          onChange={(value) => set('surprises', value)}
          onBlur={onBlur}
        />
      </div>
      {values.doneAt === null && (
        <>
          {action.error !== null && <ErrorNotice error={action.error} />}
          {asked && waiting > 0 && (
            <p className="field-error" role="alert">
              {waiting === 1 ? '1 observation is' : `${waiting} observations are`} typed but not
              saved. Save {waiting === 1 ? 'it' : 'them'} above, then finish.
            </p>
          )}
          <div className="row">
            <Button look="main" busy={action.busy} busyText="Finishing…" onClick={finish}>
              Finish and study
            </Button>
            <span className="small soft">Study begins after the fact: finish Do first.</span>
          </div>
        </>
      )}
    </>
  )
}
