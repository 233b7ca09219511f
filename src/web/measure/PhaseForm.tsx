import { useEffect, useRef, useState } from 'react'
import type { CycleBrief } from '../../api/contract.ts'
import type { Phase } from '../../domain/record.ts'
import type { AppError } from '../../errors.ts'
import { asAppError } from '../lib/api.ts'
import { issuesByField } from '../lib/refusals.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { DateField } from '../ui/DateField.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'

export type PhaseFields = Pick<Phase, 'startsAt' | 'frozenThrough' | 'reason' | 'cycleId'>

export interface PhaseFormProps {
  /** Names the draft: the phase edited, or a new one of this measure. */
  readonly draftKey: string
  readonly initial: PhaseFields
  /** The stretch from the first observation on: it has no first day of its own. */
  readonly baseline: boolean
  readonly tests: readonly CycleBrief[]
  readonly saveText: string
  readonly onSave: (fields: PhaseFields) => Promise<unknown>
  readonly onClose: () => void
}

/** Start a phase, or edit one: when, why, which test explains it, and up to where it is frozen. */
export function PhaseForm(props: PhaseFormProps) {
  const { baseline, tests } = props
  const form = useDraft<PhaseFields>(props.draftKey, props.initial)
  const { startsAt, frozenThrough, reason, cycleId } = form.values
  const [asked, setAsked] = useState(false)
  const [saving, setSaving] = useState(false)
  const [error, setError] = useState<AppError | null>(null)
  const refused = issuesByField(error)
  const root = useRef<HTMLFormElement>(null)
  useEffect(() => root.current?.querySelector<HTMLElement>('input, textarea')?.focus(), [])

  const wrong = {
    startsAt: !baseline && startsAt === null ? 'Give the first day of the phase.' : null,
    frozenThrough:
      frozenThrough !== null && startsAt !== null && frozenThrough < startsAt
        ? 'The phase cannot be frozen before it begins.'
        : null,
    reason: reason.trim() === '' ? 'Say why; only a recorded reason makes a phase.' : null,
  }
  const save = async () => {
    setAsked(true)
    if (Object.values(wrong).some((w) => w !== null) || saving) return
    setSaving(true)
    try {
      await props.onSave({ startsAt, frozenThrough, reason: reason.trim(), cycleId })
      form.clear()
      props.onClose()
    } catch (thrown) {
      setError(asAppError(thrown))
      setSaving(false)
    }
  }
  const shown = (field: keyof typeof wrong) => (asked ? wrong[field] : null) ?? refused[field]

  return (
    <form
      className="stack fill phase-form"
      ref={root}
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <div className="row baseline">
        {!baseline && (
          <DateField
            label="First day"
            value={startsAt}
            onChange={(value) => form.set('startsAt', value)}
            error={shown('startsAt')}
          />
        )}
        <DateField
          label="Frozen through"
          hint="Centre and limits come from the points up to this day and are carried forward."
          optional
          value={frozenThrough}
          onChange={(value) => form.set('frozenThrough', value)}
          error={shown('frozenThrough')}
        />
      </div>
      <TextArea
        label="Reason"
        hint={
          baseline
            ? 'Why this stretch is the one to compare with.'
            : 'What changed, and why the level is not the one before.'
        }
        value={reason}
        onChange={(value) => form.set('reason', value)}
        error={shown('reason')}
      />
      {!baseline && tests.length > 0 && (
        <Select
          label="Test of change that explains it"
          optional
          value={cycleId ?? ''}
          options={[
            { value: '', label: 'none' },
            ...tests.map(({ cycle }) => ({
              value: cycle.id,
              label: `Test ${cycle.number}: ${cycle.title}`,
            })),
          ]}
          onChange={(value) => form.set('cycleId', value === '' ? null : value)}
        />
      )}
      {error !== null && <ErrorNotice error={error} />}
      <div className="row">
        <Button type="submit" look="main" busy={saving} busyText="Saving…">
          {props.saveText}
        </Button>
        <Button
          look="quiet"
          onClick={() => {
            form.clear()
            props.onClose()
          }}
        >
          Leave it as it is
        </Button>
      </div>
    </form>
  )
}
