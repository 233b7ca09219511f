import { useEffect } from 'preact/hooks'
import { newId, serverTime } from './device.ts'
import { currentTrial } from './optimistic.ts'
import { useBeat, useDraft, useTable } from './use-phone.ts'

/** A countdown that ended longer ago than this is over: the clock is started by hand. */
const LATE_MS = 10_000

/** Starts this phone's clock at the zero of the facilitator's countdown, if it times. */
export function CountdownStart({ endsAt }: { endsAt: string }) {
  const { phone, view, where } = useTable()
  const [heeded, setHeeded] = useDraft(phone, 'countdown', '')
  useBeat(100)
  const ago = serverTime() - Date.parse(endsAt)
  const due = ago >= 0 && ago < LATE_MS && heeded !== endsAt && view.timing === null
  useEffect(() => {
    if (!due || !view.seat.roles.includes('timer')) return
    setHeeded(endsAt)
    // Another phone's start may have come first; it is the same trial.
    const there = currentTrial(where.round)
    const trialId = there?.id ?? newId()
    phone.startClock(where.number, trialId, ago)
    if (there === undefined) phone.move({ kind: 'start', round: where.number, trialId })
  })
  return null
}
