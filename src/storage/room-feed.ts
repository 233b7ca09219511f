import type { Compilable, Kysely } from 'kysely'
import type { Id } from '../domain/record.ts'
import type { TableRows } from '../domain/workshop/table-state.ts'
import type { RoomWrite, RowChange } from './journal.ts'
import { prepared } from './prepared.ts'
import { ROOM_ACTIONS } from './record.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

/** What a workshop's feed reads: the whole room for its first screen, then the journal. */

/** Everything that is recorded of the tables of a room, in order of place. */
export async function tableRows(read: Read, roomId: Id): Promise<TableRows[]> {
  const tables = (given: Id) => read.selectFrom('roomTable').where('roomTable.roomId', '=', given)
  const cycles = (given: Id) =>
    tables(given).innerJoin('cycle', 'cycle.projectId', 'roomTable.projectId')
  const trials = (given: Id) => cycles(given).innerJoin('trial', 'trial.cycleId', 'cycle.id')
  const ask = <T>(name: string, build: (given: Id) => Compilable<T>) =>
    prepared(read, `${name} of all tables`, [roomId], build)
  // One after the other: a write has one connection.
  const table = await ask('table', (given) => tables(given).selectAll('roomTable').orderBy('place'))
  const seat = await ask('seat', (given) =>
    read
      .selectFrom('roomSeat')
      .selectAll()
      .where('roomId', '=', given)
      .where('tableId', 'is not', null)
      .orderBy('joinedAt')
      .orderBy('id'),
  )
  const cycle = await ask('cycle', (given) =>
    cycles(given).selectAll('cycle').orderBy('cycle.number'),
  )
  const prediction = await ask('prediction', (given) =>
    cycles(given)
      .innerJoin('prediction', 'prediction.cycleId', 'cycle.id')
      .selectAll('prediction')
      .select('roomTable.id as ofTable')
      .orderBy('prediction.id'),
  )
  const decision = await ask('decision', (given) =>
    cycles(given)
      .innerJoin('decision', 'decision.cycleId', 'cycle.id')
      .selectAll('decision')
      .select('roomTable.id as ofTable'),
  )
  const trial = await ask('trial', (given) =>
    trials(given).selectAll('trial').select('roomTable.id as ofTable').orderBy('trial.number'),
  )
  const observation = await ask('observation', (given) =>
    trials(given)
      .innerJoin('observation', (join) =>
        join
          .onRef('observation.trialId', '=', 'trial.id')
          .onRef('observation.cycleId', '=', 'cycle.id'),
      )
      .selectAll('observation')
      .select('roomTable.id as ofTable'),
  )
  const reading = await ask('reading', (given) =>
    trials(given)
      .innerJoin('reading', 'reading.trialId', 'trial.id')
      .selectAll('reading')
      .select('roomTable.id as ofTable')
      .orderBy('reading.id'),
  )
  const inspection = await ask('inspection', (given) =>
    trials(given)
      .innerJoin('inspection', 'inspection.trialId', 'trial.id')
      .selectAll('inspection')
      .select('roomTable.id as ofTable')
      .orderBy('inspection.id'),
  )
  const starts = await ask('starts', (given) =>
    tables(given)
      .innerJoin('roomMove', 'roomMove.tableId', 'roomTable.id')
      .select(['roomMove.id', 'roomMove.at', 'roomMove.seatId', 'roomMove.receivedAt'])
      .select('roomMove.tableId as ofTable')
      .where('roomMove.kind', '=', 'start')
      .orderBy('roomMove.receivedAt')
      .orderBy('roomMove.id'),
  )
  const last = await ask('last', (given) =>
    tables(given)
      .innerJoin('roomMove', 'roomMove.tableId', 'roomTable.id')
      .select(['roomMove.tableId as ofTable', (e) => e.fn.max('roomMove.at').as('at')])
      .groupBy('roomMove.tableId'),
  )
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
  const [row] = await prepared(read, 'last room write', [ROOM_ACTIONS_LIKE], (like) =>
    read
      .selectFrom('journal')
      .select('seq')
      .where('action', 'like', like)
      .orderBy('seq', 'desc')
      .limit(1),
  )
  return row?.seq ?? 0
}

/** What was written to workshops after a write, in order. */
export async function roomWritesAfter(read: Read, seq: number): Promise<RoomWrite[]> {
  const rows = await prepared(read, 'room writes', [seq], (after) =>
    read
      .selectFrom('journal')
      .select(['seq', 'changes'])
      .where('seq', '>', after)
      .where('action', 'like', ROOM_ACTIONS_LIKE)
      .orderBy('seq'),
  )
  return rows.map((row) => ({ seq: row.seq, changes: JSON.parse(row.changes) as RowChange[] }))
}

const ROOM_ACTIONS_LIKE = `${ROOM_ACTIONS}%`
