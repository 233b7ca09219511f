import type { Kysely } from 'kysely'
import type { Id } from '../domain/record.ts'
import type { OwnKit, Room, RoomSeat, RoomTable } from '../domain/workshop/room.ts'
import { prepared } from './prepared.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

export const listKits = (read: Read): Promise<OwnKit[]> =>
  read.selectFrom('kit').selectAll().orderBy('id').execute()

export const findRoom = async (read: Read, id: Id): Promise<Room | undefined> =>
  (
    await prepared(read, 'find room', [id], (given) =>
      read.selectFrom('room').selectAll().where('id', '=', given),
    )
  )[0]

export const findRoomByCode = (read: Read, code: string): Promise<Room | undefined> =>
  read.selectFrom('room').selectAll().where('code', '=', code).executeTakeFirst()

/** A room's tables, removed ones too, in order of joining. */
export const tablesOf = (read: Read, roomId: Id): Promise<RoomTable[]> =>
  read.selectFrom('roomTable').selectAll().where('roomId', '=', roomId).orderBy('place').execute()

export const findTable = async (read: Read, id: Id): Promise<RoomTable | undefined> =>
  (
    await prepared(read, 'find table', [id], (given) =>
      read.selectFrom('roomTable').selectAll().where('id', '=', given),
    )
  )[0]

/** Every seat of a room that one browser has, removed ones too, the newest first. */
export async function seatsOfBrowser(
  read: Read,
  roomId: Id,
  tokenHash: string,
): Promise<RoomSeat[]> {
  const seats = await prepared(read, 'seats of browser', [tokenHash], (given) =>
    read
      .selectFrom('roomSeat')
      .selectAll()
      .where('tokenHash', '=', given)
      .orderBy('joinedAt', 'desc')
      .orderBy('id', 'desc'),
  )
  return seats.filter((seat) => seat.roomId === roomId)
}

/** How many phones sit at each table of a room. */
export async function seatCounts(read: Read, roomId: Id): Promise<ReadonlyMap<Id | null, number>> {
  const rows = await read
    .selectFrom('roomSeat')
    .select(['tableId', (e) => e.fn.countAll<number>().as('seats')])
    .where('roomId', '=', roomId)
    .where('removedAt', 'is', null)
    .groupBy('tableId')
    .execute()
  return new Map(rows.map(({ tableId, seats }) => [tableId, Number(seats)]))
}

export interface RoomListed {
  readonly room: Omit<Room, 'notes'>
  readonly unitName: string
  readonly facilitatorName: string
  readonly tables: number
  readonly roundsDone: number
}

/** Every workshop, the newest first. */
export async function listRooms(read: Read): Promise<RoomListed[]> {
  const rooms = await read
    .selectFrom('room')
    .innerJoin('unit', 'unit.id', 'room.unitId')
    .innerJoin('person', 'person.id', 'room.facilitatorId')
    .selectAll('room')
    .select(['unit.name as unitName', 'person.name as facilitatorName'])
    .orderBy('room.openedAt', 'desc')
    .orderBy('room.id', 'desc')
    .execute()
  const tables = await read
    .selectFrom('roomTable')
    .select(['roomId', (e) => e.fn.countAll<number>().as('tables')])
    .where('removedAt', 'is', null)
    .groupBy('roomId')
    .execute()
  const decided = await read
    .selectFrom('roomTable')
    .innerJoin('cycle', 'cycle.projectId', 'roomTable.projectId')
    .innerJoin('decision', 'decision.cycleId', 'cycle.id')
    .select(['roomTable.roomId', 'roomTable.firstRound', 'cycle.number'])
    .where('roomTable.removedAt', 'is', null)
    .execute()
  const counts = new Map(tables.map((row) => [row.roomId, Number(row.tables)]))
  const rounds = new Map<Id, Set<number>>()
  for (const { roomId, firstRound, number } of decided) {
    const done = rounds.get(roomId) ?? new Set()
    rounds.set(roomId, done.add(number + firstRound - 1))
  }
  return rooms.map(({ unitName, facilitatorName, ...room }) => ({
    room,
    unitName,
    facilitatorName,
    tables: counts.get(room.id) ?? 0,
    roundsDone: rounds.get(room.id)?.size ?? 0,
  }))
}

/** The tables of every workshop that is open. */
export const openTables = (
  read: Read,
): Promise<{ id: Id; projectId: Id; roomId: Id; roomName: string }[]> =>
  read
    .selectFrom('roomTable')
    .innerJoin('room', 'room.id', 'roomTable.roomId')
    .select(['roomTable.id', 'roomTable.projectId', 'roomTable.roomId', 'room.name as roomName'])
    .where('room.closedAt', 'is', null)
    .execute()

/** The project that a record belongs to, whichever kind it is; `null` where there is none such. */
export async function projectOfRecord(read: Read, id: Id): Promise<Id | null> {
  const project = await read.selectFrom('project').select('id').where('id', '=', id).execute()
  if (project.length > 0) return id
  for (const table of ['cycle', 'measure'] as const) {
    const row = await read
      .selectFrom(table)
      .select('projectId')
      .where('id', '=', id)
      .executeTakeFirst()
    if (row !== undefined) return row.projectId
  }
  const trial = await read
    .selectFrom('trial')
    .innerJoin('cycle', 'cycle.id', 'trial.cycleId')
    .select('cycle.projectId')
    .where('trial.id', '=', id)
    .executeTakeFirst()
  if (trial !== undefined) return trial.projectId
  for (const table of ['phase', 'annotation'] as const) {
    const row = await read
      .selectFrom(table)
      .innerJoin('measure', 'measure.id', `${table}.measureId`)
      .select('measure.projectId')
      .where(`${table}.id`, '=', id)
      .executeTakeFirst()
    if (row !== undefined) return row.projectId
  }
  return null
}
