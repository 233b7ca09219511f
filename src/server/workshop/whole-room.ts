import type { Kysely } from 'kysely'
import type { Id } from '../../domain/record.ts'
import type { Room } from '../../domain/workshop/room.ts'
import type { RoomView, TableState } from '../../domain/workshop/room-state.ts'
import { roomView, type TableRows, tableState } from '../../domain/workshop/table-state.ts'
import { notFound } from '../../storage/record.ts'
import { lastRoomSeq, tableRows } from '../../storage/room-feed.ts'
import { findRoom } from '../../storage/rooms.ts'
import type { Schema } from '../../storage/tables.ts'

/** A room with everything in it, as the facilitator sees it. */
interface WholeRoom {
  /** Everything up to this write is in it; some of what came later may be too. */
  readonly seq: number
  readonly room: RoomView
  readonly tables: readonly TableState[]
}

/** The same, as it is recorded. */
export interface RoomRows {
  readonly seq: number
  readonly room: Room
  readonly tables: readonly TableRows[]
}

/** @throws AppError `record.not_found`. */
export async function readRows(read: Kysely<Schema>, id: Id): Promise<RoomRows> {
  // Read first: what is written meanwhile then counts as not seen, and comes again.
  const seq = await lastRoomSeq(read)
  const room = await findRoom(read, id)
  if (room === undefined) throw notFound('room', id)
  return { seq, room, tables: await tableRows(read, id) }
}

/** @throws AppError `record.not_found`. */
export async function readRoom(read: Kysely<Schema>, id: Id): Promise<WholeRoom> {
  const { seq, room, tables } = await readRows(read, id)
  const view = roomView(room)
  return { seq, room: view, tables: tables.map((table) => tableState(table, view.kit)) }
}
