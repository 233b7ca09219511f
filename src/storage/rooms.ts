import type { Kysely } from 'kysely'
import type { Id } from '../domain/record.ts'
import type { OwnKit, Room, RoomSeat, RoomTable } from '../domain/workshop/room.ts'
import type { TableRows } from '../domain/workshop/table-state.ts'
import type { RowChange } from './journal.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

export const listKits = (read: Read): Promise<OwnKit[]> =>
  read.selectFrom('kit').selectAll().orderBy('id').execute()

export const findRoom = (read: Read, id: Id): Promise<Room | undefined> =>
  read.selectFrom('room').selectAll().where('id', '=', id).executeTakeFirst()

export const findRoomByCode = (read: Read, code: string): Promise<Room | undefined> =>
  read.selectFrom('room').selectAll().where('code', '=', code).executeTakeFirst()

/** A room's tables, removed ones too, in order of joining. */
export const tablesOf = (read: Read, roomId: Id): Promise<RoomTable[]> =>
  read.selectFrom('roomTable').selectAll().where('roomId', '=', roomId).orderBy('place').execute()

export const findTable = (read: Read, id: Id): Promise<RoomTable | undefined> =>
  read.selectFrom('roomTable').selectAll().where('id', '=', id).executeTakeFirst()

/** Every seat of a room that one browser has, removed ones too, the newest first. */
export const seatsOfBrowser = (read: Read, roomId: Id, tokenHash: string): Promise<RoomSeat[]> =>
  read
    .selectFrom('roomSeat')
    .selectAll()
    .where('tokenHash', '=', tokenHash)
    .where('roomId', '=', roomId)
    .orderBy('joinedAt', 'desc')
    .orderBy('id', 'desc')
    .execute()

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

/** Which tables to read: all of a room, or one. */
type Which = { readonly roomId: Id } | { readonly tableId: Id }

/** Everything that is recorded of tables, in order of place: as many queries for one as for twelve. */
export async function tableRows(read: Read, which: Which): Promise<TableRows[]> {
  const [column, id] =
    'roomId' in which
      ? (['roomTable.roomId', which.roomId] as const)
      : (['roomTable.id', which.tableId] as const)
  const tables = read.selectFrom('roomTable').where(column, '=', id)
  const cycles = tables.innerJoin('cycle', 'cycle.projectId', 'roomTable.projectId')
  const trials = cycles.innerJoin('trial', 'trial.cycleId', 'cycle.id')
  // One after the other: a write has one connection.
  const table = await tables.selectAll('roomTable').orderBy('place').execute()
  const seat = await tables
    .innerJoin('roomSeat', 'roomSeat.tableId', 'roomTable.id')
    .selectAll('roomSeat')
    .orderBy('roomSeat.joinedAt')
    .orderBy('roomSeat.id')
    .execute()
  const cycle = await cycles.selectAll('cycle').orderBy('cycle.number').execute()
  const prediction = await cycles
    .innerJoin('prediction', 'prediction.cycleId', 'cycle.id')
    .selectAll('prediction')
    .select('roomTable.id as ofTable')
    .orderBy('prediction.id')
    .execute()
  const decision = await cycles
    .innerJoin('decision', 'decision.cycleId', 'cycle.id')
    .selectAll('decision')
    .select('roomTable.id as ofTable')
    .execute()
  const trial = await trials
    .selectAll('trial')
    .select('roomTable.id as ofTable')
    .orderBy('trial.number')
    .execute()
  const observation = await trials
    .innerJoin('observation', (join) =>
      join
        .onRef('observation.trialId', '=', 'trial.id')
        .onRef('observation.cycleId', '=', 'cycle.id'),
    )
    .selectAll('observation')
    .select('roomTable.id as ofTable')
    .execute()
  const reading = await trials
    .innerJoin('reading', 'reading.trialId', 'trial.id')
    .selectAll('reading')
    .select('roomTable.id as ofTable')
    .orderBy('reading.id')
    .execute()
  const inspection = await trials
    .innerJoin('inspection', 'inspection.trialId', 'trial.id')
    .selectAll('inspection')
    .select('roomTable.id as ofTable')
    .orderBy('inspection.id')
    .execute()
  const starts = await tables
    .innerJoin('roomMove', 'roomMove.tableId', 'roomTable.id')
    .select(['roomMove.at', 'roomMove.seatId', 'roomMove.tableId as ofTable'])
    .where('roomMove.kind', '=', 'start')
    .execute()
  const last = await tables
    .innerJoin('roomMove', 'roomMove.tableId', 'roomTable.id')
    .select(['roomMove.tableId as ofTable', (e) => e.fn.max('roomMove.at').as('at')])
    .groupBy('roomMove.tableId')
    .execute()
  const of = <T extends { readonly ofTable: Id | null }>(rows: readonly T[], tableId: Id) =>
    rows.filter(({ ofTable }) => ofTable === tableId)
  return table.map((row) => ({
    table: row,
    seats: seat.filter(({ tableId }) => tableId === row.id),
    cycles: cycle.filter(({ projectId }) => projectId === row.projectId),
    predictions: of(prediction, row.id),
    decisions: of(decision, row.id),
    trials: of(trial, row.id),
    observations: of(observation, row.id),
    readings: of(reading, row.id),
    inspections: of(inspection, row.id),
    starts: of(starts, row.id),
    lastMoveAt: last.find(({ ofTable }) => ofTable === row.id)?.at ?? null,
  }))
}

/** The last write that touched any workshop; 0 before the first. */
export async function lastRoomSeq(read: Read): Promise<number> {
  const row = await read
    .selectFrom('journal')
    .select('seq')
    .where('action', 'like', 'room.%')
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst()
  return row?.seq ?? 0
}

/** What was written to workshops after a write, in order. */
export async function roomWritesAfter(
  read: Read,
  seq: number,
): Promise<{ readonly seq: number; readonly changes: readonly RowChange[] }[]> {
  const rows = await read
    .selectFrom('journal')
    .select(['seq', 'changes'])
    .where('seq', '>', seq)
    .where('action', 'like', 'room.%')
    .orderBy('seq')
    .execute()
  return rows.map((row) => ({ seq: row.seq, changes: JSON.parse(row.changes) as RowChange[] }))
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
