import type { Id, Instant } from '../../domain/record.ts'
import { newTable } from '../../domain/workshop/new-table.ts'
import type { Room, RoomTable } from '../../domain/workshop/room.ts'
import type { TableState } from '../../domain/workshop/room-state.ts'
import { kitOf, settingsOf, tableState } from '../../domain/workshop/table-state.ts'
import { hasLocked, shownRounds } from '../../domain/workshop/visible.ts'
import { AppError } from '../../errors.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { tableRows } from '../../storage/room-feed.ts'
import { tablesOf } from '../../storage/rooms.ts'
import { findUnit } from '../../storage/units.ts'
import { newId } from '../call.ts'
import { takenName } from './refusals.ts'
import { drawNumber } from './table-number.ts'

const MOST_TABLES = 24

/** Every table of a room, whole, as this write finds it. */
export async function wholeTables(write: Write, room: Room): Promise<TableState[]> {
  const kit = kitOf(room)
  const rows = await tableRows(write.read, room.id)
  return rows.map((table) => tableState(table, kit))
}

/**
 * Rounds that others have seen the predictions of and that a table has not locked: what it predicts
 * in them is no longer blind, so nobody waits for it.
 */
export async function roundsMissed(write: Write, room: Room, tableId: Id | null) {
  const tables = await wholeTables(write, room)
  const own = tables.find(({ id }) => id === tableId)
  const others = tables.filter(({ id }) => id !== tableId)
  return [...shownRounds(others)]
    .filter((round) => others.some((table) => hasLocked(table, round)))
    .filter((round) => own === undefined || !hasLocked(own, round))
    .sort((a, b) => a - b)
}

/** Makes a table. @throws AppError `room.table_name`, `room.full`. */
export async function addTable(
  write: Write,
  room: Room,
  tableId: Id,
  name: string,
  at: Instant,
  firstRound?: number,
): Promise<RoomTable> {
  const tables = await tablesOf(write.read, room.id)
  if (tables.some((table) => sameName(table.name, name))) throw takenName(name)
  if (tables.length >= MOST_TABLES)
    throw new AppError(
      'room.full',
      `A workshop has room for ${MOST_TABLES} tables.`,
      'Join a table that is there.',
    )
  const unit = await findUnit(write.read, room.unitId)
  if (unit === undefined) throw notFound('unit', room.unitId)
  const excused = await roundsMissed(write, room, null)
  const ids = {
    tableId,
    projectId: newId(at),
    timeMeasureId: newId(at),
    qualityMeasureId: newId(at),
  }
  const made = newTable(room, kitOf(room), ids, {
    name,
    place: Math.max(0, ...tables.map(({ place }) => place)) + 1,
    firstRound: firstRound ?? (settingsOf(room).pace === 'alone' ? 1 : Math.max(1, room.round)),
    excused,
    origin: unit.origin,
    joinNumber: drawNumber(),
    at,
  })
  await write.insert('person', { ...made.person, passwordHash: null })
  await write.insert('project', made.project)
  for (const measure of made.measures) await write.insert('measure', measure)
  return write.insert('roomTable', made.table)
}

export const sameName = (a: string, b: string) => a.trim().toLowerCase() === b.trim().toLowerCase()
