import { useEffect, useState } from 'preact/hooks'
import { newId, serverTime } from './device.ts'
import { Said } from './Said.tsx'
import { Button, Screen } from './Screen.tsx'
import { TimeTrack } from './TimeTrack.tsx'
import { useBeat, useTable } from './use-phone.ts'
import { predictionText } from './words.ts'

const COUNT_MS = 3000

/** Locked; the clock can start, by hand or at the end of the countdown. */
export function ReadyPage() {
  const { phone, state, where } = useTable()
  const { room } = state
  const { number, round } = where
  const [ownEnd, setOwnEnd] = useState<number | null>(null)
  useBeat(200)
  const shared = room.countdown?.kind === 'start' ? room.countdown.endsAt : null
  const left = shared === null ? Number.NEGATIVE_INFINITY : Date.parse(shared) - serverTime()
  const ownLeft = ownEnd === null ? Number.NEGATIVE_INFINITY : ownEnd - performance.now()

  function start(msAgo = 0) {
    const trialId = newId()
    phone.startClock(number, trialId, msAgo)
    phone.move({ kind: 'start', round: number, trialId })
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: one countdown, one start.
  useEffect(() => {
    if (ownEnd === null) return
    const timer = setTimeout(() => start(performance.now() - ownEnd), ownEnd - performance.now())
    return () => clearTimeout(timer)
  }, [ownEnd])

  const shown = Math.ceil(Math.max(left, ownLeft) / 1000)
  const voided = round?.trials.findLast(({ voidReason }) => voidReason !== null)
  return (
    <Screen
      name={`ready ${number}`}
      title="Your prediction is locked"
      controls={
        <>
          {ownEnd === null && (
            <Button as="huge" onClick={() => start()}>
              Start
            </Button>
          )}
          {/* One and the same button, so that it keeps the focus. */}
          <Button onClick={() => setOwnEnd(ownEnd === null ? performance.now() + COUNT_MS : null)}>
            {ownEnd === null ? 'Count down from 3, then start' : 'Stop counting'}
          </Button>
        </>
      }
    >
      <p>
        <Said>{predictionText(round?.predictions ?? null, room.kit.checklist.length)}</Said>
      </p>
      <p class="clock" role="timer" aria-label={`${Math.max(0, shown)} seconds`}>
        {shown > 0 ? shown : '0:00'}
        {shown <= 0 && <small>.0</small>}
      </p>
      <TimeTrack seconds={0} said={round?.predictions?.time ?? null} />
      <p aria-live="polite">{shown > 0 ? 'The clock starts at zero.' : room.kit.clockStarts}</p>
      {room.settings.pace === 'together' && shown <= 0 && (
        <p class="small">The facilitator counts down for all tables. You can also start now.</p>
      )}
      {voided !== undefined && (
        <p class="small">
          Trial {voided.number} is void: {voided.voidReason}{' '}
          <Button as="link" onClick={() => phone.move({ kind: 'unvoid', trialId: voided.id })}>
            Take it back
          </Button>
        </p>
      )}
    </Screen>
  )
}
