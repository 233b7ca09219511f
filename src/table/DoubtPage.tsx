import { useState } from 'preact/hooks'
import { formatDuration, parseDuration } from '../domain/duration.ts'
import type { Id } from '../domain/record.ts'
import { AppError } from '../errors.ts'
import { Button, focusOn, Screen, TextField } from './Screen.tsx'
import { useTable } from './use-phone.ts'

/** A stopped clock of which the device cannot tell how long it ran. */
export interface Doubt {
  readonly round: number
  readonly trialId: Id
  readonly readingId: Id
  readonly stopId: Id
  readonly note: string
  readonly choose: readonly number[]
}

/** The device's clocks differ, and the server does not know either: the table says. */
export function DoubtPage({ doubt, onDone }: { doubt: Doubt; onDone: () => void }) {
  const { phone } = useTable()
  const [typed, setTyped] = useState('')
  const [error, setError] = useState<string>()
  const { choose, stopId, note, ...ids } = doubt

  function take(seconds: number, how: 'device-clock' | 'typed') {
    const said = `${note} The table chose this time.`
    onDone()
    phone.move({ kind: 'stop', ...ids, seconds, how, note: said.trim() }, stopId)
  }
  function takeTyped() {
    try {
      const { seconds, perhaps } = parseDuration(typed)
      if (perhaps !== null)
        throw new AppError(
          'duration.unreadable',
          `"${typed.trim()}" may be ${formatDuration(perhaps)} or ${formatDuration(seconds)}.`,
          'Write it with a colon.',
        )
      if (seconds > 0) take(seconds, 'typed')
    } catch (problem) {
      if (!(problem instanceof AppError)) throw problem
      setError(`${problem.message} ${problem.hint}`)
      focusOn('typed-time')
    }
  }
  return (
    <Screen
      name={`doubt ${doubt.readingId}`}
      title="How long did it take?"
      controls={
        <>
          {choose.map((seconds) => (
            <Button key={seconds} as="main" onClick={() => take(seconds, 'device-clock')}>
              {formatDuration(seconds)}
            </Button>
          ))}
          <TextField
            id="typed-time"
            label="Or the time somebody else took"
            value={typed}
            error={error}
            onText={setTyped}
          />
          <Button onClick={takeTyped}>Take this time</Button>
        </>
      }
    >
      <p>{note} This phone cannot tell which time is right.</p>
    </Screen>
  )
}
