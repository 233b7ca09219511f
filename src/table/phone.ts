import { findIdentifiers } from '../domain/identifiers.ts'
import type { Id } from '../domain/record.ts'
import type { MoveBody } from '../domain/workshop/moves.ts'
import type { SeatRole } from '../domain/workshop/room.ts'
import { type RoomState, withChange } from '../domain/workshop/room-state.ts'
import { AppError } from '../errors.ts'
import { advance, type Run, startRun, startRunAt } from './clock.ts'
import { learnServerClock, newId, openShelf, readClock, steadyNow } from './device.ts'
import { type Feed, openFeed } from './feed.ts'
import { keep, readKept } from './kept.ts'
import { withMoves } from './optimistic.ts'
import {
  dropSeen,
  instantOf,
  type Outbox,
  type OutMove,
  openOutbox,
  pending,
  sendWaiting,
  unsent,
} from './outbox.ts'
import { forgetSeat, keepSeat, roomShelf, type Seat } from './seat.ts'
import { ask } from './server.ts'

/** A clock of this phone, with the ids of what it will become: two pages of one browser share them. */
interface Timing {
  readonly round: number
  readonly trialId: Id
  readonly readingId: Id
  readonly stopId: Id
  readonly run: Run
}

export interface View {
  readonly seat: Seat
  /** With what this phone has done on top; `null` until the first has arrived. */
  readonly state: RoomState | null
  readonly live: boolean
  /** Moves that the server does not have. */
  readonly unsent: number
  readonly asking: OutMove | null
  readonly refused: readonly OutMove[]
  readonly timing: Timing | null
  /** Why this phone is no longer at its table. */
  readonly lost: { readonly message: string; readonly hint: string } | null
  /** `false`: this browser forgets everything with the page. */
  readonly lasting: boolean
}

export interface Phone {
  readonly get: () => View
  readonly subscribe: (listener: () => void) => () => void
  readonly move: (body: MoveBody, id?: Id) => void
  readonly startClock: (round: number, trialId: Id, msAgo?: number) => void
  /** The clock as it stands now; `null` where none runs. */
  readonly clockNow: () => Run | null
  readonly dropClock: () => void
  readonly setRoles: (roles: readonly SeatRole[], name: string) => void
  /** Answers the question about what may point at a patient. */
  readonly answer: (move: OutMove, what: 'send' | 'take-out') => void
  readonly forget: (move: OutMove) => void
  readonly draft: <T>(name: string) => T | null
  readonly keepDraft: (name: string, value: unknown) => void
  readonly leave: () => void
  readonly retry: () => void
  readonly close: () => void
}

const RETRY_MS = [1000, 2000, 4000, 8000, 15_000]

/** One phone at one table: what it knows, what it has done, and its line to the server. */
export function openPhone(first: Seat, joined: RoomState | null): Phone {
  const { shelf, lasting } = openShelf()
  const place = roomShelf(first.roomId)
  const box: Outbox = openOutbox(shelf, `${place}out.`)
  let seat = first
  let server = joined ?? readKept<RoomState>(shelf, `${place}state`)
  let timing = readKept<Timing>(shelf, `${place}clock`)
  let live = false
  let lost: View['lost'] = null
  let sending = false
  let failures = 0
  let closed = false
  let retryTimer: ReturnType<typeof setTimeout> | undefined
  let checkTimer: ReturnType<typeof setTimeout> | undefined
  let feed: Feed | null = null
  let view = look()
  const listeners = new Set<() => void>()

  function look(): View {
    const moves = box.all()
    const local = pending(moves).map((move) => ({ body: move.body, at: instantOf(move) }))
    return {
      ...{ seat, live, timing, lost, lasting },
      state: server === null ? null : withMoves(server, local),
      unsent: unsent(moves).length,
      asking: moves.find(({ standing }) => standing === 'asking') ?? null,
      refused: moves.filter(({ standing }) => standing === 'refused'),
    }
  }
  function changed() {
    if (closed) return
    view = look()
    for (const listener of listeners) listener()
  }

  function sitAs(part: Partial<Seat>) {
    seat = { ...seat, ...part }
    keepSeat(shelf, seat)
  }

  function receive(state: RoomState, asked: number | null = null) {
    server = state
    learnServerClock(state.now, asked)
    keep(shelf, `${place}state`, { ...state, tables: state.tables.filter(isOwn) })
    dropSeen(box, state.seq)
    const table = state.tables.find(isOwn)
    if (table !== undefined && table.name !== seat.tableName) sitAs({ tableName: table.name })
    changed()
  }
  const isOwn = ({ id }: { id: Id }) => id === seat.tableId

  async function send() {
    clearTimeout(retryTimer)
    if (sending || closed || lost !== null || unsent(box.all()).length === 0) return
    sending = true
    try {
      let seq = 0
      const post = async (moves: Parameters<Parameters<typeof sendWaiting>[1]>[0]) => {
        const reply = await ask('POST /api/rooms/:id/moves', seat.roomId, { moves: [...moves] })
        seq = reply.seq
        return reply
      }
      await alone(() => sendWaiting(box, post, readClock))
      failures = 0
      if (server !== null) dropSeen(box, server.seq)
      // Where the feed does not bring it, ask for it.
      clearTimeout(checkTimer)
      checkTimer = setTimeout(() => seq > (server?.seq ?? 0) && void refresh(), 2500)
    } catch (error) {
      await failed(error)
    } finally {
      sending = false
      changed()
    }
    if (unsent(box.all()).some(({ standing }) => standing === 'waiting') && failures === 0)
      void send()
  }

  async function failed(error: unknown) {
    const status = error instanceof AppError ? error.details['status'] : undefined
    if (status === 401 || status === 403 || status === 404) {
      if (await rejoin()) return
    }
    const wait = RETRY_MS[Math.min(failures++, RETRY_MS.length - 1)]!
    retryTimer = setTimeout(() => void send(), wait)
  }

  /** One page of this browser sends at a time, where the browser can arrange that. */
  const alone = <T>(work: () => Promise<T>): Promise<T> =>
    'locks' in navigator
      ? (navigator.locks.request(`pawl.t.${seat.roomId}`, work) as Promise<T>)
      : work()

  async function refresh() {
    try {
      const asked = steadyNow()
      const state = await ask('GET /api/rooms/:id', seat.roomId)
      // An answer that the feed has overtaken would take back what the feed brought.
      if (state.seq >= (server?.seq ?? 0)) receive(state, asked)
    } catch (error) {
      if (error instanceof AppError && [401, 403, 404].includes(error.details['status'] as number))
        await rejoin()
    }
  }

  let rejoining: Promise<boolean> | null = null
  /** Takes the seat again with what the phone knows, where the server has lost sight of it. */
  function rejoin(): Promise<boolean> {
    rejoining ??= takeAgain().finally(() => {
      rejoining = null
    })
    return rejoining
  }
  async function takeAgain(): Promise<boolean> {
    const { code, tableId, tableName, name, roles } = seat
    // A browser that is still known keeps the seat it has; one that is not gets a new one.
    const tableNumber = `${server?.tables.find(isOwn)?.joinNumber}`
    const as = 'table'
    const body = { code, seatId: newId(), as, tableId, tableName, tableNumber, name } as const
    try {
      const state = await ask('POST /api/rooms/join', '', body)
      const { viewer } = state
      if (viewer.as === 'table') sitAs({ seatId: viewer.seatId, tableId: viewer.tableId })
      lost = null
      receive(state)
      feed?.wake(true)
      const own = state.tables.find(isOwn)?.seats.find(({ id }) => id === seat.seatId)
      if (own?.roles.length === 0 && roles.length > 0)
        box.add(newId(), { kind: 'seat', name, roles }, readClock())
      return true
    } catch (error) {
      if (!(error instanceof AppError)) throw error
      const { status } = error.details
      if (status === undefined || status === 429 || (status as number) >= 500) return false
      lost = { message: error.message, hint: error.hint }
      changed()
      return false
    }
  }

  /** The server would ask too; out of its reach the question comes before the clock starts, not after. */
  function askFirst(id: Id, body: MoveBody) {
    const [found] = findIdentifiers(textIn(body), new Date().getFullYear())
    if (found === undefined) return
    const message = `"${found.found}" looks like it could point at a patient.`
    box.change(id, { standing: 'asking', message })
  }

  const stopStorage = listen(window, 'storage', () => {
    timing = readKept<Timing>(shelf, `${place}clock`)
    changed()
    void send()
  })
  const stopOnline = listen(window, 'online', () => {
    feed?.wake(true)
    failures = 0
    void send()
  })
  const stopSeen = listen(document, 'visibilitychange', () => {
    clockNow()
    if (document.visibilityState !== 'visible') return saveClock(true)
    feed?.wake(true)
    failures = 0
    void send()
  })
  const stopHide = listen(window, 'pagehide', () => {
    clockNow()
    saveClock(true)
  })
  // The clock is looked at often, so that sleep and changed clocks are seen when they happen.
  const ticking = setInterval(() => {
    if (clockNow() !== null) saveClock()
  }, 200)

  function clockNow(): Run | null {
    if (timing === null) return null
    const now = readClock()
    const doubtful = timing.run
    timing = { ...timing, run: advance(doubtful, now) }
    const odd = (run: Run) => run.moved !== doubtful.moved || run.asleep !== doubtful.asleep
    if (odd(timing.run) || timing.run.reloads !== doubtful.reloads) void refresh()
    return timing.run
  }
  let savedAt = 0
  /** Every second, by one page of this browser: the one that keeps it up to date already. */
  function saveClock(leaving = false) {
    const now = performance.now()
    if (timing === null || (now - savedAt < 1000 && !leaving)) return
    const kept = readKept<Timing>(shelf, `${place}clock`)
    if (kept === null || kept.readingId !== timing.readingId) return
    const { last } = kept.run
    const mine = last.page === timing.run.last.page
    if (!mine && Math.abs(timing.run.last.wall - last.wall) < 2500) return
    savedAt = now
    keep(shelf, `${place}clock`, timing)
  }

  feed = openFeed(seat.roomId, () => server?.seq ?? 0, {
    onState: (state) => {
      receive(state)
      // What was pushed may be old; an answer tells the server's clock to half its way.
      if (readClock().server === null) void refresh()
    },
    onChange(change) {
      if (server === null) void refresh()
      else receive(withChange(server, change))
    },
    onLink(is) {
      live = is
      if (is) {
        failures = 0
        void send()
      }
      changed()
    },
    onFailure: () => navigator.onLine && void refresh(),
  })
  void send()

  return {
    get: () => view,
    subscribe(listener) {
      listeners.add(listener)
      return () => void listeners.delete(listener)
    },
    move(body, id = newId()) {
      box.add(id, body, readClock())
      askFirst(id, body)
      changed()
      void send()
    },
    startClock(round, trialId, msAgo = 0) {
      const now = readClock()
      const run = msAgo === 0 ? startRun(now) : startRunAt(now, msAgo)
      timing = { round, trialId, readingId: newId(), stopId: newId(), run }
      keep(shelf, `${place}clock`, timing)
      changed()
    },
    clockNow,
    dropClock() {
      timing = null
      keep(shelf, `${place}clock`, null)
      changed()
    },
    setRoles(roles, name) {
      sitAs({ roles, name })
      box.add(newId(), { kind: 'seat', name, roles }, readClock())
      changed()
      void send()
    },
    answer(move, what) {
      if (what === 'take-out') box.drop(move.id)
      else box.change(move.id, { standing: 'waiting', textChecked: true })
      changed()
      void send()
    },
    forget(move) {
      box.drop(move.id)
      changed()
    },
    draft: (name) => readKept(shelf, `${place}draft.${name}`),
    keepDraft: (name, value) => keep(shelf, `${place}draft.${name}`, value),
    leave() {
      forgetSeat(shelf, seat.code)
    },
    retry() {
      lost = null
      void rejoin().then(() => send())
    },
    close() {
      closed = true
      feed?.close()
      clearInterval(ticking)
      clearTimeout(retryTimer)
      clearTimeout(checkTimer)
      for (const stop of [stopStorage, stopOnline, stopSeen, stopHide]) stop()
    },
  }
}

function listen(target: EventTarget, type: string, listener: () => void): () => void {
  target.addEventListener(type, listener)
  return () => target.removeEventListener(type, listener)
}

/** Free text of a move, one stretch a line; ids are none. */
function textIn(body: MoveBody): string {
  return Object.entries(body)
    .filter(([key, value]) => typeof value === 'string' && !/id$/i.test(key))
    .map(([, value]) => value)
    .join('\n')
}
