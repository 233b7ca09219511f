import { useCallback, useEffect, useMemo, useSyncExternalStore } from 'react'
import type { Id } from '../../../domain/record.ts'
import {
  type RoomChange,
  type RoomState,
  type Viewer,
  withChange,
} from '../../../domain/workshop/room-state.ts'
import type { AppError } from '../../../errors.ts'
import { asAppError, call } from '../../lib/api.ts'
import { isUnreachable } from '../../lib/refusals.ts'
import { createStore, type Store } from '../../lib/store.ts'
import { createServerClock, type ServerClock } from './server-clock.ts'

/** `connecting`: for the first time. `live`: every change arrives. `lost`: it is being tried again. */
export type FeedStatus = 'connecting' | 'live' | 'lost'

interface FeedState {
  /** `null` until it first arrives; the last one that was seen while the connection is lost. */
  readonly state: RoomState | null
  readonly status: FeedStatus
  /** Why the server refuses the room, such as a seat that was removed; `null`: it does not. */
  readonly error: AppError | null
}

/** The part of the browser's `EventSource` that a feed uses. */
export interface Source {
  readonly readyState: number
  readonly close: () => void
  readonly addEventListener: (
    kind: string,
    heard: (event: { readonly data?: string }) => void,
  ) => void
}

/** What a feed needs from its surroundings; tests bring their own. */
export interface FeedSurroundings {
  readonly open: (url: string) => Source
  /** Asks for the room once, which also tells why a feed is refused. */
  readonly read: (roomId: Id) => Promise<RoomState>
  /** Milliseconds that only go forward. */
  readonly steady: () => number
  readonly later: (work: () => void, ms: number) => number
  readonly forget: (timer: number) => void
  /** Calls back when the device comes back from sleep, or finds its network again. */
  readonly onAwake: (woken: () => void) => () => void
}

export interface RoomFeed {
  readonly store: Pick<Store<FeedState>, 'get' | 'subscribe'>
  readonly clock: ServerClock
  /** Takes in a state that came another way, such as the answer to joining. */
  readonly take: (state: RoomState) => void
  readonly start: () => void
  readonly stop: () => void
}

const CLOSED = 2
/** Waits before another try, milliseconds; the last one again and again. */
const WAITS = [500, 1000, 2000, 4000, 8000]

/** Follows one room, and never gives up: a refused or broken feed is opened again. */
export function createRoomFeed(roomId: Id, around: FeedSurroundings): RoomFeed {
  const store = createStore<FeedState>({ state: null, status: 'connecting', error: null })
  const clock = createServerClock(around.steady)
  let source: Source | null = null
  let timer: number | null = null
  let tries = 0
  let stopWaking: (() => void) | null = null
  /** Counts connections, so that an answer of one that was given up is dropped. */
  let turn = 0

  const put = (change: Partial<FeedState>) => store.set({ ...store.get(), ...change })
  const take = (state: RoomState) => {
    clock.heard(state.now)
    put({ state, error: null })
  }
  const isLive = () => {
    tries = 0
    put({ status: 'live', error: null })
  }
  const isLost = () => put({ status: store.get().state === null ? 'connecting' : 'lost' })

  function disconnect(): void {
    turn++
    source?.close()
    source = null
    if (timer !== null) around.forget(timer)
    timer = null
  }

  function connect(): void {
    disconnect()
    const own = turn
    const seq = store.get().state?.seq
    const after = seq === undefined ? '' : `?after=${seq}`
    const opened = around.open(`/api/rooms/${encodeURIComponent(roomId)}/feed${after}`)
    source = opened
    opened.addEventListener('open', () => {
      if (own === turn) isLive()
    })
    opened.addEventListener('state', ({ data }) => {
      if (own !== turn || data === undefined) return
      take(JSON.parse(data) as RoomState)
      isLive()
    })
    opened.addEventListener('change', ({ data }) => {
      const { state } = store.get()
      if (own !== turn || data === undefined || state === null) return
      const change = JSON.parse(data) as RoomChange
      clock.heard(change.now)
      put({ state: withChange(state, change) })
    })
    opened.addEventListener('error', () => {
      if (own !== turn) return
      isLost()
      // After a broken connection the browser tries again by itself; after a refusal it never does.
      if (opened.readyState === CLOSED) void refused(own)
    })
  }

  /** Learns why, and keeps the picture fresh in the meantime where the room itself still answers. */
  async function refused(own: number): Promise<void> {
    try {
      const state = await around.read(roomId)
      // An answer that the feed has overtaken would take back what the feed brought.
      if (own === turn && state.seq >= (store.get().state?.seq ?? 0)) take(state)
    } catch (thrown) {
      const error = asAppError(thrown)
      if (own === turn && !isUnreachable(error)) put({ error })
    }
    if (own !== turn) return
    timer = around.later(connect, WAITS[Math.min(tries++, WAITS.length - 1)]!)
  }

  return {
    store,
    clock,
    take,
    start: () => {
      stopWaking = around.onAwake(connect)
      connect()
    },
    stop: () => {
      stopWaking?.()
      stopWaking = null
      disconnect()
    },
  }
}

/** A device that slept holds connections that only look alive: a tick that comes this late tells. */
const TICK = 5000
const LATE = 15_000

function onAwake(woken: () => void): () => void {
  let last = Date.now()
  const ticking = setInterval(() => {
    const now = Date.now()
    if (now - last > LATE) woken()
    last = now
  }, TICK)
  addEventListener('online', woken)
  return () => {
    clearInterval(ticking)
    removeEventListener('online', woken)
  }
}

/**
 * A feed in this browser.
 *
 * @param as What to be seen as: where a coach is signed in, a room screen must say that it is one, or
 *   it would be shown what only the facilitator may see.
 */
const browserFeed = (roomId: Id, as: Viewer['as']): RoomFeed =>
  createRoomFeed(roomId, {
    open: (url) => new EventSource(`${url}${url.includes('?') ? '&' : '?'}as=${as}`),
    read: (id) => call(`GET /api/rooms/:id?as=${as}` as 'GET /api/rooms/:id', { params: { id } }),
    steady: () => performance.now(),
    later: (work, ms) => window.setTimeout(work, ms),
    forget: (timer) => window.clearTimeout(timer),
    onAwake,
  })

export interface LiveRoom extends FeedState {
  /** The server's clock now, milliseconds since 1970: what countdowns are reckoned by. */
  readonly serverNow: () => number
}

/**
 * A room, kept up to date for as long as the component is shown.
 *
 * @param first A state that is known already, such as the answer to joining.
 */
export function useRoom(roomId: Id, first: RoomState | null = null): LiveRoom {
  // biome-ignore lint/correctness/useExhaustiveDependencies: `first` counts once for each room.
  const feed = useMemo(() => {
    const made = browserFeed(roomId, first?.viewer.as ?? 'lead')
    if (first !== null) made.take(first)
    return made
  }, [roomId])
  useEffect(() => {
    feed.start()
    return feed.stop
  }, [feed])
  const state = useSyncExternalStore(feed.store.subscribe, feed.store.get)
  const serverNow = useCallback(() => feed.clock.now(), [feed])
  return { ...state, serverNow }
}
