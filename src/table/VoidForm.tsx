import { useState } from 'preact/hooks'
import type { TrialState } from '../domain/workshop/room-state.ts'
import { Button, focusOn, Screen, TextField } from './Screen.tsx'
import { useDraft, useTable } from './use-phone.ts'

/** A trial that does not count, and why. It stays on the record. */
export function VoidForm({ trial, onDone }: { trial: TrialState; onDone: () => void }) {
  const { phone } = useTable()
  const [reason, setReason] = useDraft(phone, `void.${trial.id}`, '')
  const [error, setError] = useState<string>()
  return (
    <Screen
      name="void"
      title={`Void trial ${trial.number}?`}
      controls={
        <>
          <TextField
            id="void-reason"
            label="Why does it not count?"
            hint="Such as: the tray fell down. A slow time is no reason."
            rows={2}
            value={reason}
            error={error}
            onText={setReason}
          />
          <Button
            as="main"
            onClick={() => {
              if (reason.trim() === '') {
                setError('Give the reason; it stays on the record.')
                return focusOn('void-reason')
              }
              phone.dropClock()
              phone.move({ kind: 'void', trialId: trial.id, reason: reason.trim() })
              onDone()
            }}
          >
            Void it
          </Button>
          <Button onClick={onDone}>It counts after all</Button>
        </>
      }
    >
      <p>The trial stays on the record with your reason, and the round is run again.</p>
    </Screen>
  )
}
