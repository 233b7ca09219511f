import type { Id } from '../../domain/record.ts'
import { projectName } from '../../domain/workshop/new-table.ts'
import type { Countdown, Room, RoomTable } from '../../domain/workshop/room.ts'
import { countdownOf, excusedOf, kitOf } from '../../domain/workshop/table-state.ts'
import { AppError } from '../../errors.ts'
import { notFound } from '../../storage/record.ts'
import { tablesOf } from '../../storage/rooms.ts'
import type { Done, MoveContext, MoveOf } from './move-context.ts'
import { takenName } from './refusals.ts'
import { addTable, roundsMissed, sameName } from './room-writes.ts'

/** What the facilitator does to the room as a whole. */

type RoomChange = Partial<Omit<Room, 'id' | 'version'>>

async function change({ write, room }: MoveContext, to: RoomChange): Promise<Done> {
  await write.update('room', room.id, null, to)
  return { tableId: null }
}

export const moment = (context: MoveContext, move: MoveOf<'moment'>) =>
  change(context, { moment: move.moment })

export async function round(context: MoveContext, move: MoveOf<'round'>): Promise<Done> {
  const { rounds } = context.settings
  if (move.round > rounds)
    throw new AppError(
      'room.no_such_round',
      `This workshop has ${rounds} rounds; there is no round ${move.round}.`,
      'Add rounds in the settings first.',
      { round: move.round },
    )
  return change(context, { round: move.round })
}

export const pace = (context: MoveContext, move: MoveOf<'pace'>) =>
  change(context, { settings: JSON.stringify({ ...context.settings, pace: move.pace }) })

export function countdown(context: MoveContext, move: MoveOf<'countdown'>): Promise<Done> {
  if (move.seconds === 0) return change(context, { countdown: null })
  const startedAt = context.at
  const endsAt = later(startedAt, move.seconds)
  const made: Countdown = { kind: move.of, startedAt, endsAt }
  return change(context, { countdown: JSON.stringify(made) })
}

export async function extend(context: MoveContext, move: MoveOf<'extend'>): Promise<Done> {
  const there = countdownOf(context.room)
  if (there === null)
    throw new AppError('room.no_countdown', 'There is no countdown to extend.', 'Start one.')
  // One that has run out goes on from now.
  const from = Math.max(Date.parse(there.endsAt), Date.parse(context.at))
  const longer = { ...there, endsAt: later(new Date(from).toISOString(), move.seconds) }
  return change(context, { countdown: JSON.stringify(longer) })
}

export const talkingPoint = (context: MoveContext, move: MoveOf<'talking-point'>) =>
  change(context, { talkingPoint: move.index })

export const notes = (context: MoveContext, move: MoveOf<'notes'>) =>
  change(context, { notes: move.text })

export const close = (context: MoveContext, _move: MoveOf<'close'>) =>
  change(context, { closedAt: context.room.closedAt ?? context.at })

export const reopen = (context: MoveContext, _move: MoveOf<'reopen'>) =>
  change(context, { closedAt: null })

// What the facilitator does to tables and seats.

async function tableOf({ write, room }: MoveContext, id: Id): Promise<RoomTable> {
  const table = await write.current('roomTable', id, null)
  if (table.roomId !== room.id) throw notFound('roomTable', id)
  return table
}

export async function nudge(context: MoveContext, move: MoveOf<'nudge'>): Promise<Done> {
  const text = move.text.trim()
  const to =
    move.toTableId === null
      ? (await tablesOf(context.write.read, context.room.id)).filter((t) => t.removedAt === null)
      : [await tableOf(context, move.toTableId)]
  const nudgedAt = text === '' ? null : context.at
  for (const { id } of to)
    await context.write.update('roomTable', id, null, { nudge: text, nudgedAt })
  return { tableId: null }
}

export async function addOne(context: MoveContext, move: MoveOf<'add-table'>): Promise<Done> {
  const { write, room, receivedAt } = context
  await addTable(write, room, move.newTableId, move.name, receivedAt, move.firstRound)
  return { tableId: null }
}

export async function rename(context: MoveContext, move: MoveOf<'rename-table'>): Promise<Done> {
  const { write, room } = context
  const table = await tableOf(context, move.ofTableId)
  const { name } = move
  for (const other of await tablesOf(write.read, room.id))
    if (other.id !== table.id && sameName(other.name, name)) throw takenName(name)
  await write.update('roomTable', table.id, null, { name })
  await write.update('person', table.id, null, { name })
  await write.update('project', table.projectId, null, { name: projectName(name, kitOf(room)) })
  return { tableId: null }
}

export async function removeOne(context: MoveContext, move: MoveOf<'remove-table'>): Promise<Done> {
  const table = await tableOf(context, move.ofTableId)
  const removedAt = table.removedAt ?? context.at
  await context.write.update('roomTable', table.id, null, { removedAt })
  return { tableId: null }
}

/** Brings a table back; rounds that the class has seen meanwhile go on without it. */
export async function restoreOne(
  context: MoveContext,
  move: MoveOf<'restore-table'>,
): Promise<Done> {
  const table = await tableOf(context, move.ofTableId)
  const missed = await roundsMissed(context.write, context.room, table.id)
  const excused = [...new Set([...excusedOf(table), ...missed])].sort((a, b) => a - b)
  await context.write.update('roomTable', table.id, null, {
    removedAt: null,
    excused: JSON.stringify(excused),
  })
  return { tableId: null }
}

async function setSeat(context: MoveContext, id: Id, removedAt: string | null): Promise<Done> {
  const seat = await context.write.current('roomSeat', id, null)
  if (seat.roomId !== context.room.id) throw notFound('roomSeat', id)
  await context.write.update('roomSeat', id, null, { removedAt })
  return { tableId: seat.tableId }
}

export const removeSeat = (context: MoveContext, move: MoveOf<'remove-seat'>) =>
  setSeat(context, move.seatId, context.at)

export const restoreSeat = (context: MoveContext, move: MoveOf<'restore-seat'>) =>
  setSeat(context, move.seatId, null)

export async function excuse(context: MoveContext, move: MoveOf<'excuse'>): Promise<Done> {
  const table = await tableOf(context, move.ofTableId)
  const excused = [...new Set([...excusedOf(table), move.round])].sort((a, b) => a - b)
  await context.write.update('roomTable', table.id, null, { excused: JSON.stringify(excused) })
  return { tableId: null }
}

export async function unexcuse(context: MoveContext, move: MoveOf<'unexcuse'>): Promise<Done> {
  const table = await tableOf(context, move.ofTableId)
  const missed = await roundsMissed(context.write, context.room, table.id)
  if (missed.includes(move.round))
    throw new AppError(
      'room.already_shown',
      `The predictions of round ${move.round} are shown already; nobody can wait for ${table.name} any more.`,
      'Let it lock the round all the same: the record says that the others had been shown.',
      { round: move.round },
    )
  const excused = excusedOf(table).filter((n) => n !== move.round)
  await context.write.update('roomTable', table.id, null, { excused: JSON.stringify(excused) })
  return { tableId: null }
}

const later = (from: string, seconds: number) =>
  new Date(Date.parse(from) + seconds * 1000).toISOString()
