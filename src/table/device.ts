import { writeId } from '../domain/id.ts'
import type { Id, Instant } from '../domain/record.ts'
import type { ClockReading } from './clock.ts'
import { pageShelf, type Shelf } from './kept.ts'

/** This page among all that ever were: a steady clock belongs to one. */
const page = newId()

/** The server's clock against the steady one, and how far it may be out. */
interface Known {
  readonly offset: number
  readonly error: number
  readonly steady: number
  readonly wall: number
}
let known: Known | null = null

/** A page counts as loading while the one before it is still there: its clock begins with its code. */
const opened = performance.now()
export const steadyNow = () => performance.now() - opened

/** What is only pushed may have been on its way for any time. */
const PUSHED_ERROR_MS = 60_000
/** To settle a time, the server's clock has to be known to this. */
const SURE_MS = 1000

/** Once the device's clocks part ways, what was reckoned with them is worth nothing. */
const held = (known: Known, steady: number, wall: number) =>
  Math.abs(wall - known.wall - (steady - known.steady)) <= 250

/**
 * Learns the server's clock from a message.
 *
 * @param asked When it was asked for, by the steady clock; `null` where it came by itself.
 */
export function learnServerClock(now: Instant, asked: number | null): void {
  const steady = steadyNow()
  const wall = Date.now()
  const error = asked === null ? PUSHED_ERROR_MS : (steady - asked) / 2
  const offset = Date.parse(now) - steady + (asked === null ? 0 : error)
  const better =
    known === null ||
    !held(known, steady, wall) ||
    error <= known.error ||
    // No message comes from the future: the server's clock has moved.
    offset > known.offset + known.error
  if (better) known = { offset, error, steady, wall }
}

export function readClock(): ClockReading {
  const steady = steadyNow()
  const wall = Date.now()
  const sure = known !== null && known.error <= SURE_MS && held(known, steady, wall)
  return {
    steady,
    wall,
    page,
    visible: document.visibilityState === 'visible',
    server: sure ? known!.offset + steady : null,
  }
}

/** The server's clock as well as it is known, else the device's own; ms since 1970. */
export function serverTime(): number {
  const steady = steadyNow()
  const wall = Date.now()
  return known !== null && held(known, steady, wall) ? known.offset + steady : wall
}

export function newId(): Id {
  return writeId(Date.now(), crypto.getRandomValues(new Uint8Array(10)))
}

/** Where this browser keeps things; `lasting` is false where it forgets them with the page. */
export function openShelf(): { shelf: Shelf; lasting: boolean } {
  try {
    localStorage.setItem('pawl.t.try', '1')
    localStorage.removeItem('pawl.t.try')
    return { shelf: localStorage, lasting: true }
  } catch {
    return { shelf: pageShelf(), lasting: false }
  }
}
