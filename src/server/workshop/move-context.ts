import type { Cycle, Decision, Id, Instant, Trial } from '../../domain/record.ts'
import type { Move, MoveKind } from '../../domain/workshop/moves.ts'
import type { Room, RoomSeat, RoomSettings, RoomTable } from '../../domain/workshop/room.ts'
import type { AppError } from '../../errors.ts'
import { decisionOf } from '../../storage/cycles.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { findTable } from '../../storage/rooms.ts'
import { notYours, removedTable } from './refusals.ts'

/** Who makes a move: a phone, or the facilitator. */
export type Mover =
  | { readonly seat: RoomSeat; readonly lead: null }
  | { readonly seat: null; readonly lead: { readonly id: Id; readonly name: string } }

/** What a move is done with. */
export interface MoveContext {
  readonly write: Write
  readonly room: Room
  readonly settings: RoomSettings
  readonly mover: Mover
  /** When it was made, and when it got here. */
  readonly at: Instant
  readonly receivedAt: Instant
}

/** One kind of move, as it is sent. */
export type MoveOf<K extends MoveKind> = Extract<Move, { readonly kind: K }>

/**
 * What a move did besides what it wrote: the table it belongs to, and, where it was refused but its
 * words were kept, why.
 */
export interface Done {
  readonly tableId: Id | null
  readonly refused?: AppError
  /** The moment it is kept with, where that is not quite when it was made. */
  readonly at?: Instant
  /** The trial it is about, where the phone calls it something else. */
  readonly called?: { readonly as: Id; readonly trialId: Id }
}

/** The table that a move is for: the phone's own, or the one the facilitator names. */
export async function tableToMove(
  { write, room, mover }: MoveContext,
  move: { readonly kind: string; readonly tableId?: Id | undefined },
): Promise<RoomTable> {
  const id = mover.seat === null ? (move.tableId ?? null) : mover.seat.tableId
  if (id === null) throw notYours(move.kind)
  if (mover.seat !== null && move.tableId !== undefined && move.tableId !== id)
    throw notYours(move.kind)
  const table = await findTable(write.read, id)
  if (table === undefined || table.roomId !== room.id) throw notFound('roomTable', id)
  if (table.removedAt !== null && mover.lead === null) throw removedTable(table.name)
  return table
}

export interface TrialToMove {
  readonly table: RoomTable
  readonly trial: Trial
  readonly cycle: Cycle
  readonly decision: Decision | null
}

/**
 * Which trial a phone means. One that began it without knowing of another phone's calls it by an id
 * of its own, and goes on doing so in what it sends later.
 */
export async function trialMeant({ write, room }: MoveContext, trialId: Id): Promise<Id> {
  const called = await write.read
    .selectFrom('roomMove')
    .select('trialId')
    .where('calledTrialId', '=', trialId)
    .where('roomId', '=', room.id)
    .limit(1)
    .executeTakeFirst()
  return called?.trialId ?? trialId
}

/** A trial of the mover's table. */
export async function trialToMove(
  context: MoveContext,
  move: { readonly kind: string; readonly trialId: Id; readonly tableId?: Id | undefined },
): Promise<TrialToMove> {
  const { read } = context.write
  const meant = await trialMeant(context, move.trialId)
  const trial = await context.write.current('trial', meant, null)
  const cycle = await context.write.current('cycle', trial.cycleId, null)
  let { tableId } = move
  if (context.mover.lead !== null && tableId === undefined) {
    const of = await read
      .selectFrom('roomTable')
      .select('id')
      .where('projectId', '=', cycle.projectId)
      .executeTakeFirst()
    tableId = of?.id
  }
  const table = await tableToMove(context, { kind: move.kind, tableId })
  if (table.projectId !== cycle.projectId) throw notFound('trial', move.trialId)
  return { table, trial, cycle, decision: await decisionOf(read, cycle.id) }
}

/** Name beside what somebody did: the seat's, or the facilitator's. */
export const nameOf = ({ seat, lead }: Mover) => (lead === null ? seat.name : lead.name)
