import { ValueField } from '../../measure/ValueField.tsx'
import type { RoomForm } from './room-form.ts'

const DURATION = { dataKind: 'single', valueFormat: 'duration' } as const
type TimeField = 'planSeconds' | 'trialSeconds' | 'timersAgreeWithin'

export interface TimeBoxFieldsProps {
  readonly values: RoomForm
  readonly set: (field: TimeField, value: number | null) => void
  readonly problemOf: (field: string) => string | null | undefined
  readonly onUnread: (field: TimeField, unread: boolean) => void
}

/** Time boxes of a round, and when two timers agree. */
export function TimeBoxFields({ values, set, problemOf, onUnread }: TimeBoxFieldsProps) {
  const field = (name: TimeField, label: string, hint: string, optional: boolean) => (
    <ValueField
      measure={DURATION}
      label={label}
      hint={hint}
      optional={optional}
      value={values[name]}
      onChange={(value) => set(name, value)}
      error={problemOf(name) ?? null}
      draftKey={`new-room:${name}`}
      onUnread={(unread) => onUnread(name, unread)}
    />
  )
  return (
    <>
      {field(
        'planSeconds',
        'For planning and predicting',
        'Minutes and seconds, such as 4:00.',
        true,
      )}
      {field(
        'trialSeconds',
        'For one trial',
        'The clock turns loud then; nothing is stopped.',
        true,
      )}
      {field(
        'timersAgreeWithin',
        'Two timers agree within',
        'Further apart, the table is asked which time to keep.',
        false,
      )}
    </>
  )
}
