import { useEffect, useState } from 'preact/hooks'
import { formatDuration, speakDurations } from '../domain/duration.ts'
import { timeOf } from './clock.ts'
import { newId, serverTime } from './device.ts'
import { currentTrial } from './optimistic.ts'
import { Said } from './Said.tsx'
import { Button, Screen } from './Screen.tsx'
import { TimeTrack } from './TimeTrack.tsx'
import { useBeat, useTable } from './use-phone.ts'
import { useWakeLock } from './use-wake-lock.ts'
import { VoidForm } from './VoidForm.tsx'
import { clockParts, minuteText, predictionText } from './words.ts'

/** For so long after another phone's start this one can still say that it timed from the start too. */
const ALSO_MS = 4000
const LONG = 'Longer than the time box'

/** The clock fills the screen, and the prediction stands below it. */
export function RunningPage() {
  const { phone, state, where, view } = useTable()
  const { round, number } = where
  const [voiding, setVoiding] = useState(false)
  useWakeLock()
  useBeat(matchMedia('(prefers-reduced-motion: reduce)').matches ? 500 : 100)
  const trial = currentTrial(round)
  const run = view.timing?.round === number ? phone.clockNow() : null
  const stopped = trial?.readings[0]
  const said = round?.predictions?.time ?? null
  const since = trial === undefined ? 0 : serverTime() - Date.parse(trial.startedAt)
  const ms = run?.elapsed ?? Math.max(0, since)
  const { main, tenth } = clockParts(ms)
  const loud =
    state.room.settings.trialSeconds !== null && ms > state.room.settings.trialSeconds * 1000

  function stop() {
    const { timing } = view
    const at = phone.clockNow()
    if (timing === null || at === null) return
    const { seconds, how, note, choose } = timeOf(at)
    const { round: of, trialId, readingId, stopId } = timing
    const ids = { round: of, trialId, readingId }
    if (choose === null) phone.move({ kind: 'stop', ...ids, seconds, how, note }, stopId)
    else phone.keepDraft('doubt', { ...ids, stopId, note, choose })
    phone.dropClock()
  }
  function stopForAnother() {
    if (trial === undefined) return
    const seconds = Math.max(0.1, Math.round(since / 100) / 10)
    const note = 'The clock was started on another phone.'
    const ids = { round: number, trialId: trial.id, readingId: newId() }
    phone.move({ kind: 'stop', ...ids, seconds, how: 'server-clock', note })
  }
  useEffect(() => {
    document.documentElement.classList.toggle('loud', loud)
    return () => document.documentElement.classList.remove('loud')
  }, [loud])

  if (voiding && trial !== undefined)
    return <VoidForm trial={trial} onDone={() => setVoiding(false)} />
  return (
    <Screen
      name={`running ${number}`}
      title={loud ? LONG : 'The clock runs'}
      controls={
        run !== null ? (
          <>
            <Button as="huge" onClick={stop}>
              Stop
            </Button>
            {stopped === undefined ? (
              <Button onClick={() => setVoiding(true)}>Void this trial</Button>
            ) : (
              <Button onClick={phone.dropClock}>
                Leave it to the other timer: <Said>{formatDuration(stopped.seconds)}</Said>
              </Button>
            )}
          </>
        ) : (
          <>
            {since < ALSO_MS && trial !== undefined ? (
              <Button as="huge" onClick={() => phone.startClock(number, trial.id)}>
                Start here too
              </Button>
            ) : (
              <Button as="main" onClick={stopForAnother}>
                Stop it from this phone
              </Button>
            )}
            <Button onClick={() => setVoiding(true)}>Void this trial</Button>
          </>
        )
      }
    >
      <p>
        <Said>{predictionText(round?.predictions ?? null, state.room.kit.checklist.length)}</Said>
      </p>
      <p
        class={main.length > 4 ? 'clock long' : 'clock'}
        role="timer"
        aria-label={`Clock: ${speakDurations(main)}`}
      >
        <span aria-hidden="true">
          {main}
          <small>{tenth}</small>
        </span>
      </p>
      <TimeTrack seconds={ms / 1000} said={said} />
      <p class="hidden" aria-live="polite">
        {loud ? LONG : minuteText(ms)}
      </p>
      <p>{run === null ? 'Another phone has the clock.' : state.room.kit.clockStops}</p>
    </Screen>
  )
}
