import { randomInt } from 'node:crypto'
import type { Kysely } from 'kysely'
import type { Id } from '../../domain/record.ts'
import type { Room, RoomTable } from '../../domain/workshop/room.ts'
import { AppError } from '../../errors.ts'
import { tablesOf } from '../../storage/rooms.ts'
import type { Schema } from '../../storage/tables.ts'
import type { Call } from '../call.ts'

/** A number for a table: three digits, easily called across it. */
export const drawNumber = () => randomInt(100, 1000)

/**
 * Tables of a room that have something to see: a phone has sat there, or a round has begun. Who
 * knows the code of the room alone does not come in there, or everybody could read what any table
 * predicts.
 */
export async function tablesInUse(read: Kysely<Schema>, roomId: Id): Promise<ReadonlySet<Id>> {
  const seats = await read
    .selectFrom('roomSeat')
    .select('tableId')
    .where('roomId', '=', roomId)
    .distinct()
    .execute()
  const begun = await read
    .selectFrom('roomTable')
    .innerJoin('cycle', 'cycle.projectId', 'roomTable.projectId')
    .select('roomTable.id as tableId')
    .where('roomTable.roomId', '=', roomId)
    .distinct()
    .execute()
  return new Set([...seats, ...begun].flatMap(({ tableId }) => tableId ?? []))
}

/**
 * A further phone of a table shows that it stands there.
 *
 * @throws AppError `room.table_number`, `room.too_many_tries`.
 */
export async function mustKnowNumber(
  read: Kysely<Schema>,
  { id, roomId, name, joinNumber }: RoomTable,
  { body, at, address, tableLimit }: Call<'POST /api/rooms/join'>,
): Promise<void> {
  if (!(await tablesInUse(read, roomId)).has(id)) return
  const typed = (body.tableNumber ?? '').trim()
  const from = `${address} ${id}`
  const now = Date.parse(at)
  if (typed !== '') tableLimit.mayTry(from, null, now)
  if (joinNumber !== null && typed === String(joinNumber)) return
  if (typed !== '') tableLimit.wrong(from, now)
  const message =
    typed === ''
      ? `${name} is in use: a further phone needs its number.`
      : `${typed} is not the number of ${name}.`
  throw new AppError(
    'room.table_number',
    message,
    'A phone there shows it under “This phone”, and the facilitator knows it.',
    { tableId: id, issues: [{ code: 'room.table_number', field: 'tableNumber', message }] },
  )
}

/** Gives tables from before there were numbers one each, when somebody comes to the room. */
export async function numberTables(
  { db, at }: Pick<Call<'POST /api/rooms/join'>, 'db' | 'at'>,
  { id, facilitatorId }: Pick<Room, 'id' | 'facilitatorId'>,
): Promise<void> {
  const without = (await tablesOf(db.read, id)).filter(({ joinNumber }) => joinNumber === null)
  if (without.length === 0) return
  const by = { id: facilitatorId, name: 'Pawl' }
  await db.record({ action: 'room.number-tables', by, at }, async (write) => {
    for (const table of without)
      await write.update('roomTable', table.id, null, { joinNumber: drawNumber() })
  })
}
