import type { ServerResponse } from 'node:http'
import type { Id } from '../../domain/record.ts'
import type { RoomView, Viewer } from '../../domain/workshop/room-state.ts'
import { roomView, tableState } from '../../domain/workshop/table-state.ts'
import { AppError } from '../../errors.ts'
import type { Database } from '../../storage/database.ts'
import { lastRoomSeq, roomWritesAfter, tableRows } from '../../storage/room-feed.ts'
import { findRoom } from '../../storage/rooms.ts'
import { type FeedClient, feedClient, message } from './feed-client.ts'
import { type FeedRoom, feedRoom } from './feed-room.ts'
import { type Touched, touchedBy } from './touched.ts'
import { readRoom } from './whole-room.ts'

const HEARTBEAT_MS = 15_000
/** Every so many heartbeats, each screen is asked whether it may still look. */
const ASK_EVERY = 4
const MOST_SCREENS = 1_000
/** Beyond this many touched tables they are read together. */
const TABLES_READ_ONE_BY_ONE = 3

export interface FeedHub {
  /** Something may have been written to a workshop. */
  wake(): void
  /** @throws AppError `room.too_many_screens`. */
  mustHaveRoom(roomId: Id): void
  /** Streams a room to one screen, from the state or, where it has all of it, from the next change. */
  follow(response: ServerResponse, roomId: Id, asker: Follower): Promise<void>
  close(): Promise<void>
}

interface Follower {
  readonly viewer: Viewer
  /** The last write that it has seen. */
  readonly after: number | null
  readonly mayStay: () => Promise<boolean>
}

/**
 * Keeps screens up to date. It reads what was written to workshops from the journal, in order, and
 * sends each part that changed, whole; so a change that is sent twice does nothing, and one that was
 * missed is in the next state. Reading and sending go one after the other.
 */
export function feedHub(db: Database, now: () => Date): FeedHub {
  const rooms = new Map<Id, FeedRoom>()
  /** The last write that was looked at; `null`: nobody follows, nothing is looked at. */
  let cursor: number | null = null
  let woken = false
  let queue: Promise<unknown> = Promise.resolve()
  let closing = false
  let listening: ReturnType<Database['onRoomWrites']> | null = null
  let beats = 0
  const heartbeat = setInterval(beat, HEARTBEAT_MS)
  heartbeat.unref()

  /** One thing at a time, so that nothing is written between a room's being read and followed. */
  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = queue.then(work)
    queue = turn.catch(() => {})
    return turn
  }

  function wake(): void {
    if (woken || cursor === null || closing) return
    woken = true
    // A database that cannot be reached is asked again at the next wake; nothing is passed over.
    void inTurn(lookAtWrites).catch(() => {})
  }

  async function lookAtWrites(): Promise<void> {
    woken = false
    if (cursor === null) return
    if (rooms.size === 0) {
      cursor = null
      return
    }
    const writes = await roomWritesAfter(db.read, cursor)
    const last = writes.at(-1)
    if (last === undefined) return
    for (const room of [...rooms.values()]) {
      const news = writes.filter(({ seq }) => seq > room.seq())
      const touched = touchedBy(
        news.flatMap(({ changes }) => changes),
        room,
      )
      if (touched === null) continue
      const seqs = news.filter(({ changes }) => touchedBy(changes, room) !== null)
      await bringUpToDate(room, touched, seqs.at(-1)?.seq ?? last.seq)
    }
    cursor = last.seq
  }

  async function bringUpToDate(room: FeedRoom, touched: Touched, seq: number): Promise<void> {
    for (const client of room.clients)
      if (client.viewer.as === 'table' && touched.movedSeats.has(client.viewer.seatId)) client.end()
    const view = touched.room ? await viewOf(room.id) : room.view()
    if (view === null) {
      for (const client of room.clients) client.end()
      rooms.delete(room.id)
      return
    }
    const ids = [...touched.tableIds]
    const rows =
      ids.length > TABLES_READ_ONE_BY_ONE
        ? await tableRows(db.read, { roomId: room.id })
        : (await Promise.all(ids.map((tableId) => tableRows(db.read, { tableId })))).flat()
    const tables = rows.map((table) => tableState(table, view.kit))
    room.take(seq, view, tables)
    room.sendChange(now().toISOString(), touched.room, touched.tableIds)
  }

  async function viewOf(roomId: Id): Promise<RoomView | null> {
    const row = await findRoom(db.read, roomId)
    return row === undefined ? null : roomView(row)
  }

  async function roomToFollow(roomId: Id): Promise<FeedRoom> {
    if (cursor === null) {
      cursor = await lastRoomSeq(db.read)
      listening ??= db.onRoomWrites(wake)
    }
    const there = rooms.get(roomId)
    if (there !== undefined) return there
    const made = feedRoom(await readRoom(db.read, roomId))
    rooms.set(roomId, made)
    return made
  }

  function leave(room: FeedRoom, client: FeedClient | null): void {
    if (client !== null) room.clients.delete(client)
    if (room.clients.size === 0 && rooms.get(room.id) === room) rooms.delete(room.id)
  }

  async function beat(): Promise<void> {
    beats++
    const pulse = message(':\n\n')
    const everybody = [...rooms.values()].flatMap(({ clients }) => [...clients])
    for (const client of everybody) client.send(pulse)
    if (beats % ASK_EVERY !== 0) return
    for (const client of everybody) {
      // One that cannot be asked just now stays until it can.
      const stays = await client.mayStay().catch(() => true)
      if (!stays) client.end()
    }
  }

  return {
    wake,
    mustHaveRoom(roomId) {
      if ((rooms.get(roomId)?.clients.size ?? 0) < MOST_SCREENS) return
      throw new AppError(
        'room.too_many_screens',
        `${MOST_SCREENS} screens follow this workshop already.`,
        'Close those that nobody looks at.',
      )
    },
    follow: (response, roomId, { viewer, after, mayStay }) =>
      inTurn(async () => {
        const room = await roomToFollow(roomId)
        // It may have gone while it waited for its turn.
        if (response.destroyed) return leave(room, null)
        const client = feedClient(response, viewer, mayStay, (gone) => leave(room, gone))
        room.clients.add(client)
        if (after !== room.seq()) client.send(room.stateFor(viewer, now().toISOString()))
      }),
    async close() {
      closing = true
      clearInterval(heartbeat)
      for (const { clients } of rooms.values()) for (const client of clients) client.end()
      await queue
      await listening?.stop()
    },
  }
}
