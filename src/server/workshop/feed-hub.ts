import type { ServerResponse } from 'node:http'
import type { Id } from '../../domain/record.ts'
import type { Viewer } from '../../domain/workshop/room-state.ts'
import { AppError } from '../../errors.ts'
import type { Database } from '../../storage/database.ts'
import { queriesOn } from '../../storage/dialect.ts'
import type { RoomWrite } from '../../storage/journal.ts'
import { lastRoomSeq, roomWritesAfter } from '../../storage/room-feed.ts'
import { type FeedClient, feedClient, message } from './feed-client.ts'
import { type FeedRoom, feedRoom } from './feed-room.ts'
import { type RoomRows, readRows } from './whole-room.ts'

const HEARTBEAT_MS = 15_000
/** Every so many heartbeats, each screen is asked whether it may still look. */
const ASK_EVERY = 4
const MOST_SCREENS = 1_000

export interface FeedHub {
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
 * Keeps screens up to date. A room is read when the first screen comes, and then follows what is
 * written to workshops, in the order of the journal; each part that changed is sent whole, so a
 * change that is sent twice does nothing, and one that was missed is in the next state. Reading and
 * sending go one after the other.
 */
export function feedHub(db: Database, now: () => Date): FeedHub {
  const rooms = new Map<Id, FeedRoom>()
  /** The last write that was looked at in the journal; `null`: nobody follows, nobody looks. */
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

  /** @param writes `null`: the journal has them. */
  function onWrites(writes: readonly RoomWrite[] | null): void {
    if (closing) return
    if (writes !== null) return void inTurn(() => take(writes)).catch(() => {})
    if (woken || cursor === null) return
    woken = true
    // A database that cannot be reached is asked again at the next wake; nothing is passed over.
    void inTurn(lookInJournal).catch(() => {})
  }

  async function lookInJournal(): Promise<void> {
    woken = false
    if (cursor === null) return
    if (rooms.size === 0) {
      cursor = null
      return
    }
    const writes = await roomWritesAfter(db.read, cursor)
    const last = writes.at(-1)
    if (last === undefined) return
    await take(writes)
    cursor = last.seq
  }

  async function take(writes: readonly RoomWrite[]): Promise<void> {
    const at = now().toISOString()
    const misfits = [...rooms.values()].filter((room) => !room.take(writes, at))
    for (const room of misfits) await readAgain(room)
  }

  async function readAgain(room: FeedRoom): Promise<void> {
    try {
      room.takeAll(await read(room.id), now().toISOString())
    } catch (error) {
      if (!(error instanceof AppError) || error.code !== 'record.not_found') throw error
      for (const client of room.clients) client.end()
      rooms.delete(room.id)
    }
  }

  /** A room as it was at one moment, so that it is known which writes are in it. */
  const read = (roomId: Id): Promise<RoomRows> =>
    db.snapshot((connection) => readRows(queriesOn(connection), roomId))

  async function roomToFollow(roomId: Id): Promise<FeedRoom> {
    listening ??= db.onRoomWrites(onWrites)
    cursor ??= await lastRoomSeq(db.read)
    const there = rooms.get(roomId)
    if (there !== undefined) return there
    const made = feedRoom(await read(roomId))
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
