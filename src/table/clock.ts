import { formatDuration } from '../domain/duration.ts'
import type { TimedHow } from '../domain/workshop/room.ts'

/** What a device's clocks say at one moment, in milliseconds. */
export interface ClockReading {
  /** Since the page was opened. Nobody can set it, but it may stand still while the device sleeps. */
  readonly steady: number
  /** The device's clock of day, since 1970. Somebody can set it, and it may be wrong. */
  readonly wall: number
  /** The page that read it: a steady clock means nothing to another page. */
  readonly page: string
  readonly visible: boolean
  /** The server's clock as this page reckons it, since 1970; `null` where it does not know. */
  readonly server: number | null
}

/** A clock that runs, as kept on the device. */
export interface Run {
  readonly start: ClockReading
  readonly last: ClockReading
  /** Milliseconds that have most likely passed. */
  readonly elapsed: number
  /** The same, had every stretch on which the clocks differ gone by the other clock. */
  readonly other: number
  readonly reloads: number
  /** Milliseconds for which the steady clock stood still. */
  readonly asleep: number
  /** Milliseconds by which the clock of day was set meanwhile. */
  readonly moved: number
  /** The clocks differ and nothing on the device tells which is right. */
  readonly doubt: boolean
}

export interface Timed {
  readonly seconds: number
  readonly how: TimedHow
  /** What stood in its way; blank where nothing did. */
  readonly note: string
  /** Where nobody can tell: the durations to choose from, in seconds. */
  readonly choose: readonly number[] | null
}

/** Clocks of one device that differ by more than this have been set, or have slept. */
const SAME_MS = 250
/** What a slow network may add to the server's clock as a phone sees it. */
const SERVER_WITHIN_MS = 2000

/** A clock that starts now. */
export function startRun(now: ClockReading): Run {
  return {
    start: now,
    last: now,
    elapsed: 0,
    other: 0,
    reloads: 0,
    asleep: 0,
    moved: 0,
    doubt: false,
  }
}

/** A clock that started at another moment of this page, such as the end of a countdown. */
export function startRunAt(now: ClockReading, msAgo: number): Run {
  return startRun({
    ...now,
    steady: now.steady - msAgo,
    wall: now.wall - msAgo,
    server: now.server === null ? null : now.server - msAgo,
  })
}

const strange = (run: Run) => run.reloads > 0 || run.asleep > 0 || run.moved !== 0 || run.doubt

/**
 * Takes the clock on to the present. Called often, so that each oddity is seen when it happens.
 *
 * While a page is in sight its steady clock counts, whatever the clock of day does. A clock of day
 * that gains on the steady one out of sight means that the device slept. After a reload only the
 * clock of day is left.
 */
export function advance(run: Run, now: ClockReading): Run {
  const { last } = run
  const byWall = now.wall - last.wall
  if (now.page !== last.page) {
    // The new page has been there for as long as its own steady clock says; less is impossible.
    const reset = byWall < now.steady - SAME_MS
    const step = reset ? now.steady : byWall
    return {
      ...run,
      last: now,
      elapsed: run.elapsed + step,
      other: run.other + step,
      reloads: run.reloads + 1,
      doubt: run.doubt || reset,
    }
  }
  const bySteady = Math.max(0, now.steady - last.steady)
  const gain = byWall - bySteady
  const seen = last.visible && now.visible
  if (Math.abs(gain) <= SAME_MS) {
    const next = {
      ...run,
      last: now,
      elapsed: run.elapsed + bySteady,
      other: run.other + bySteady,
    }
    // A phone that started out of reach learns the server's clock later.
    if (run.start.server !== null || now.server === null || strange(run)) return next
    return { ...next, start: { ...run.start, server: now.server - next.elapsed } }
  }
  if (gain > 0 && !seen)
    return {
      ...run,
      last: now,
      elapsed: run.elapsed + byWall,
      other: run.other + bySteady,
      asleep: run.asleep + gain,
    }
  return {
    ...run,
    last: now,
    elapsed: run.elapsed + bySteady,
    other: run.other + Math.max(0, byWall),
    moved: run.moved + gain,
    doubt: run.doubt || !seen,
  }
}

/**
 * The time of a run, and how it was taken. Where the device's clocks differ, the server's settles
 * it if both ends are known by it; where it is not, and the device cannot tell, the page asks.
 */
export function timeOf(run: Run): Timed {
  const timed = (ms: number, how: TimedHow, extra = ''): Timed => ({
    seconds: tenths(ms),
    how,
    note: [...notes(run), extra].filter((part) => part !== '').join(' '),
    choose: null,
  })
  if (!strange(run)) return timed(run.elapsed, 'steady-clock')
  const own: TimedHow = run.reloads > 0 || run.asleep > 0 ? 'device-clock' : 'steady-clock'
  const { start, last } = run
  if (start.server !== null && last.server !== null) {
    const byServer = last.server - start.server
    const near = (ms: number) => Math.abs(ms - byServer) <= SERVER_WITHIN_MS
    if (near(run.elapsed)) return timed(run.elapsed, run.doubt ? 'server-clock' : own)
    const settled = "The server's clock settled it."
    if (near(run.other)) return timed(run.other, 'server-clock', settled)
    return timed(Math.max(0, byServer), 'server-clock', settled)
  }
  if (!run.doubt) return timed(run.elapsed, own)
  const choose = [...new Set([tenths(run.elapsed), tenths(run.other)])]
  return { ...timed(run.elapsed, own), choose }
}

function notes(run: Run): string[] {
  const parts: string[] = []
  if (run.reloads > 0)
    parts.push(
      run.reloads === 1
        ? 'The page was reloaded while the clock ran.'
        : `The page was reloaded ${run.reloads} times while the clock ran.`,
    )
  if (run.asleep > 0) parts.push(`Asleep for ${formatDuration(Math.round(run.asleep / 1000))}.`)
  if (run.moved !== 0) {
    const by = formatDuration(Math.round(Math.abs(run.moved) / 1000))
    parts.push(`The device's clock was set ${run.moved > 0 ? 'forward' : 'back'} by ${by}.`)
  }
  return parts
}

const tenths = (ms: number) => Math.round(ms / 100) / 10

/** Milliseconds since something was made on this device, 0 or more, by the best clock there is. */
export function ageOf(made: ClockReading, now: ClockReading): number {
  const byServer = made.server === null || now.server === null ? null : now.server - made.server
  const byWall = now.wall - made.wall
  if (made.page !== now.page) return Math.max(0, Math.round(byServer ?? byWall))
  const bySteady = now.steady - made.steady
  // Standing clocks are far commoner than clocks set forward.
  const own = Math.abs(byWall - bySteady) <= SAME_MS ? bySteady : Math.max(bySteady, byWall)
  const settled = byServer !== null && Math.abs(byServer - own) > SERVER_WITHIN_MS ? byServer : own
  return Math.max(0, Math.round(settled))
}
