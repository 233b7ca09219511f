import type { JoinRequest } from '../../api/workshop-contract.ts'
import type { Id, Instant } from '../../domain/record.ts'
import type { Room, RoomSeat, RoomTable } from '../../domain/workshop/room.ts'
import type { Viewer } from '../../domain/workshop/room-state.ts'
import { AppError } from '../../errors.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { findTable, seatsOfBrowser, tablesOf } from '../../storage/rooms.ts'
import { sendToken, tokenHash } from '../browser-token.ts'
import { type Call, newId } from '../call.ts'
import { removedSeat, viewerOf } from './asker.ts'
import { closedRoom, noTableName, removedTable } from './refusals.ts'
import { addTable, sameName } from './room-writes.ts'
import { mustKnowNumber } from './table-number.ts'

/**
 * Binds this browser to a seat. Asked again, it is the same seat; a phone may change its table until
 * that has begun a round, so that nobody walks round and reads what others predict.
 *
 * @throws AppError `room.removed`, `room.seat_taken`, `room.table_removed`, `room.table_name`,
 *   `room.table_number`, `room.too_many_tries`, `room.full`, `room.closed`.
 */
export async function takeSeat(
  call: Call<'POST /api/rooms/join'>,
  { id: roomId }: Room,
): Promise<Viewer> {
  const { db, body, at, token, settings, reply } = call
  const hash = tokenHash(token ?? '')
  const name = body.name || (body.as === 'screen' ? 'Room screen' : 'A phone')
  const by = { id: body.seatId, name }
  const seat = await db.record({ action: 'room.join', by, at }, (write) =>
    takeSeatIn(write, roomId, body, hash, at, (table) => mustKnowNumber(write.read, table, call)),
  )
  // The seat is bound to this browser, and outlasts its being closed.
  if (token !== null) sendToken(reply, settings, token, true)
  return viewerOf(seat)
}

/**
 * Binds a browser, known by the hash of its token, to a seat as part of a write.
 *
 * @param knocks Before a browser comes to a table that is there and not its own.
 */
export async function takeSeatIn(
  write: Write,
  roomId: Id,
  asked: Omit<JoinRequest, 'code'>,
  hash: string,
  at: Instant,
  knocks: (table: RoomTable) => Promise<void> = async () => {},
): Promise<RoomSeat> {
  const screen = asked.as === 'screen'
  const room = await write.current('room', roomId, null)
  if (room.closedAt !== null) throw closedRoom()
  const mine = await seatsOfBrowser(write.read, roomId, hash)
  const here = mine.filter(({ tableId }) => (tableId === null) === screen)
  if (here.some(({ removedAt }) => removedAt !== null)) throw removedSeat()
  const own = here[0]
  const tableId = screen ? null : (await tableToJoin(write, room, asked, at)).id
  if (tableId !== null && tableId !== own?.tableId)
    await knocks((await findTable(write.read, tableId))!)
  if (own === undefined)
    return write.insert('roomSeat', {
      id: asked.seatId,
      roomId,
      tableId,
      name: asked.name,
      roles: '[]',
      tokenHash: hash,
      confidenceBefore: null,
      confidenceAfter: null,
      joinedAt: at,
      removedAt: null,
      version: 1,
    })
  if (own.tableId !== tableId) await mustNotHaveBegun(write, own.tableId!)
  return write.update('roomSeat', own.id, null, { tableId, name: asked.name || own.name })
}

/** The table that is named, or a new one; a name that is there already is that table. */
async function tableToJoin(
  write: Write,
  room: Room,
  { tableId, tableName: name }: Omit<JoinRequest, 'code'>,
  at: Instant,
): Promise<RoomTable> {
  if (tableId !== null) {
    const table = await findTable(write.read, tableId)
    if (table === undefined || table.roomId !== room.id) throw notFound('roomTable', tableId)
    if (table.removedAt !== null) throw removedTable(table.name)
    return table
  }
  if (name === '') throw noTableName()
  const there = (await tablesOf(write.read, room.id)).find((t) => sameName(t.name, name))
  if (there === undefined) return addTable(write, room, newId(at), name, at)
  if (there.removedAt !== null) throw removedTable(there.name)
  return there
}

async function mustNotHaveBegun(write: Write, tableId: Id): Promise<void> {
  const table = await findTable(write.read, tableId)
  if (table === undefined || table.removedAt !== null) return
  const begun = await write.read
    .selectFrom('cycle')
    .select('id')
    .where('projectId', '=', table.projectId)
    .limit(1)
    .executeTakeFirst()
  if (begun === undefined) return
  throw new AppError(
    'room.seat_taken',
    `This phone sits at ${table.name}, which has begun; it cannot change its table now.`,
    'Go on at that table, or ask the facilitator.',
    { tableId },
  )
}
