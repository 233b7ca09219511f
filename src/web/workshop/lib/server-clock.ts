import type { Instant } from '../../../domain/record.ts'

export interface ServerClock {
  /** Takes note of the time the server gave when it sent something that has just arrived. */
  readonly heard: (now: Instant) => void
  /** The server's time, milliseconds since 1970; this device's own until the server was heard. */
  readonly now: () => number
}

/** Enough to forget a clock that was set back. */
const KEPT = 20

/**
 * The server's clock as this device can know it, whatever its own clock says.
 *
 * Every message is late by its way; the one that was least late gives the best answer, and that is
 * the one with the greatest lead of the server's time over the steady clock.
 *
 * @param steady Milliseconds that only go forward.
 */
export function createServerClock(steady: () => number): ServerClock {
  let leads: number[] = []
  return {
    heard: (now) => {
      const lead = Date.parse(now) - steady()
      if (Number.isFinite(lead)) leads = [...leads.slice(1 - KEPT), lead]
    },
    now: () => (leads.length === 0 ? Date.now() : steady() + Math.max(...leads)),
  }
}
