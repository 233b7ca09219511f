import { useState } from 'preact/hooks'
import { formatDuration } from '../domain/duration.ts'
import { currentTrial } from './optimistic.ts'
import { Said } from './Said.tsx'
import { Button, FieldError, focusOn, Screen, TextField } from './Screen.tsx'
import { useDraft, useTable } from './use-phone.ts'

/** Two timers, two times: which to keep, and why. */
export function KeepPage() {
  const { phone, where } = useTable()
  const trial = currentTrial(where.round)
  const [readingId, setReadingId] = useState<string | null>(null)
  const [why, setWhy] = useDraft(phone, `keep.${trial?.id ?? ''}`, '')
  const [error, setError] = useState<{ at: 'which' | 'why'; message: string }>()
  if (trial === undefined) return null
  const times = trial.readings.map(({ seconds }) => seconds)
  const apart = formatDuration(Math.max(...times) - Math.min(...times))

  function save() {
    if (readingId === null) {
      setError({ at: 'which', message: 'Choose one of the times.' })
      return focusOn('which')
    }
    if (why.trim() === '') {
      setError({ at: 'why', message: 'Say why this one is right.' })
      return focusOn('why-keep')
    }
    phone.move({ kind: 'keep', trialId: trial!.id, readingId, why: why.trim() })
  }
  return (
    <Screen
      name={`keep ${trial.id}`}
      title="The timers do not agree"
      controls={
        <>
          <fieldset class="choices" id="which" tabIndex={-1} aria-describedby="which-error">
            <legend class="hidden">Which time is right?</legend>
            {trial.readings.map(({ id, seconds, by, note }) => (
              <label key={id} class="choice">
                <input
                  type="radio"
                  name="reading"
                  checked={readingId === id}
                  onChange={() => setReadingId(id)}
                />
                <span>
                  <Said>{formatDuration(seconds)}</Said>{' '}
                  <small>{[by, note].filter((part) => part !== '').join(' · ')}</small>
                </span>
              </label>
            ))}
          </fieldset>
          <FieldError id="which" error={error?.at === 'which' ? error.message : undefined} />
          <TextField
            id="why-keep"
            label="Why this one?"
            rows={2}
            value={why}
            error={error?.at === 'why' ? error.message : undefined}
            onText={setWhy}
          />
          <Button as="main" onClick={save}>
            Keep this time
          </Button>
        </>
      }
    >
      <p>
        <Said>{`They are ${apart} apart.`}</Said> Which is right? The other one stays on the record.
      </p>
    </Screen>
  )
}
