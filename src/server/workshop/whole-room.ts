import type { Kysely } from 'kysely'
import type { Id } from '../../domain/record.ts'
import type { RoomView, TableState } from '../../domain/workshop/room-state.ts'
import { roomView, tableState } from '../../domain/workshop/table-state.ts'
import { notFound } from '../../storage/record.ts'
import { lastRoomSeq, tableRows } from '../../storage/room-feed.ts'
import { findRoom } from '../../storage/rooms.ts'
import type { Schema } from '../../storage/tables.ts'

/** A room with everything in it, as the facilitator sees it. */
export interface WholeRoom {
  /** Everything up to this write is in it; some of what came later may be too. */
  readonly seq: number
  readonly room: RoomView
  readonly tables: readonly TableState[]
}

/** @throws AppError `record.not_found`. */
export async function readRoom(read: Kysely<Schema>, id: Id): Promise<WholeRoom> {
  // Read first: what is written meanwhile then counts as not seen, and comes again.
  const seq = await lastRoomSeq(read)
  const row = await findRoom(read, id)
  if (row === undefined) throw notFound('room', id)
  const room = roomView(row)
  const rows = await tableRows(read, { roomId: id })
  return { seq, room, tables: rows.map((table) => tableState(table, room.kit)) }
}
