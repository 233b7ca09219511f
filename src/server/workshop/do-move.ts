import type { Id } from '../../domain/record.ts'
import type { Move, MoveKind, MoveResult } from '../../domain/workshop/moves.ts'
import type { Room } from '../../domain/workshop/room.ts'
import { settingsOf } from '../../domain/workshop/table-state.ts'
import { AppError } from '../../errors.ts'
import type { Database } from '../../storage/database.ts'
import { prepared } from '../../storage/prepared.ts'
import { checkText } from '../text-check.ts'
import { decideRound } from './decide-move.ts'
import { countRight, inspect } from './inspect-moves.ts'
import * as lead from './lead-moves.ts'
import type { Done, MoveContext, MoveOf, Mover } from './move-context.ts'
import { lockRound, plan } from './plan-moves.ts'
import { closedRoom, notYours } from './refusals.ts'
import { confidence, seat } from './seat-moves.ts'
import { keep, start, stop, unvoidTrial, voidTrial } from './trial-moves.ts'

type Doer<K extends MoveKind> = (context: MoveContext, move: MoveOf<K>) => Promise<Done>

const BY_TABLE = {
  plan,
  lock: lockRound,
  start,
  stop,
  keep,
  void: voidTrial,
  unvoid: unvoidTrial,
  inspect,
  decide: decideRound,
  seat,
  confidence,
} as const satisfies { readonly [K in MoveKind]?: Doer<K> }

const BY_LEAD = {
  moment: lead.moment,
  round: lead.round,
  pace: lead.pace,
  countdown: lead.countdown,
  extend: lead.extend,
  nudge: lead.nudge,
  'talking-point': lead.talkingPoint,
  notes: lead.notes,
  'add-table': lead.addOne,
  'rename-table': lead.rename,
  'remove-table': lead.removeOne,
  'restore-table': lead.restoreOne,
  'remove-seat': lead.removeSeat,
  'restore-seat': lead.restoreSeat,
  'count-right': countRight,
  excuse: lead.excuse,
  unexcuse: lead.unexcuse,
  close: lead.close,
  reopen: lead.reopen,
} as const satisfies { readonly [K in MoveKind]?: Doer<K> }

const ALL: { readonly [K in MoveKind]: Doer<K> } = { ...BY_TABLE, ...BY_LEAD }
/** What the facilitator may still do in a closed room. */
const IN_CLOSED_ROOM: ReadonlySet<MoveKind> = new Set(['reopen', 'close', 'notes'])

/** What became of a move, and the number of its write; `null`: nothing was written. */
interface Made extends MoveResult {
  readonly seq: number | null
}

/**
 * Does one move, whole, as one entry of the journal; or says why it never will. The same id does
 * nothing the second time, also where two phones send it at once: writes are done one by one.
 *
 * @throws whatever says nothing about the move itself, such as a database that cannot be reached:
 *   it is to be sent again.
 */
export async function doMove(
  db: Database,
  room: Pick<Room, 'id'>,
  mover: Mover,
  move: Move,
  receivedAt: string,
): Promise<Made> {
  const at = new Date(Date.parse(receivedAt) - move.ageMs).toISOString()
  try {
    if (move.kind in BY_LEAD && mover.lead === null) throw notYours(move.kind)
    if (move.textChecked !== true) checkText(wordsOf(move), Number(receivedAt.slice(0, 4)))
    const entry = { action: `room.${move.kind}`, by: writerOf(mover), at: receivedAt }
    return await db.record(entry, (write) =>
      doMoveIn({ write, mover, at, receivedAt }, room.id, move),
    )
  } catch (error) {
    if (!(error instanceof AppError) || /^(?:storage|server)\./.test(error.code)) throw error
    return { ...result(move, 'refused', error), seq: null }
  }
}

/**
 * Does one move as part of a write.
 *
 * @throws AppError where it is refused and nothing of it is kept.
 */
export async function doMoveIn(
  given: Pick<MoveContext, 'write' | 'mover' | 'at' | 'receivedAt'>,
  roomId: Id,
  move: Move,
): Promise<Made> {
  const { write, mover, at, receivedAt } = given
  if (await isThere(write.read, roomId, move))
    return { ...result(move, 'already', null), seq: null }
  const room = await write.current('room', roomId, null)
  if (room.closedAt !== null && at > room.closedAt && !IN_CLOSED_ROOM.has(move.kind))
    throw closedRoom()
  const does = ALL[move.kind] as (context: MoveContext, move: Move) => Promise<Done>
  const done = await does({ ...given, room, settings: settingsOf(room) }, move)
  await write.insert('roomMove', {
    id: move.id,
    roomId,
    tableId: done.tableId,
    seatId: mover.seat?.id ?? null,
    kind: move.kind,
    at: done.at ?? at,
    receivedAt,
    calledTrialId: done.called?.as ?? null,
    trialId: done.called?.trialId ?? null,
  })
  const { refused = null } = done
  return { ...result(move, refused === null ? 'done' : 'refused', refused), seq: write.seq }
}

async function isThere(
  read: MoveContext['write']['read'],
  roomId: string,
  { id }: Move,
): Promise<boolean> {
  const [there] = await prepared(read, 'room of move', [id], (given) =>
    read.selectFrom('roomMove').select('roomId').where('id', '=', given),
  )
  if (there === undefined) return false
  if (there.roomId === roomId) return true
  throw new AppError(
    'record.exists',
    'A move with this id was made in another workshop.',
    'Make the move again.',
    { id },
  )
}

/** Free text of a move. */
function wordsOf({ id: _, kind: __, ...fields }: Move): object {
  return fields
}

function writerOf(mover: Mover) {
  if (mover.lead !== null) return mover.lead
  const { tableId, name } = mover.seat
  return { id: tableId ?? mover.seat.id, name: name || 'A phone' }
}

export function result(
  { id }: { readonly id: string },
  outcome: MoveResult['outcome'],
  why: AppError | null,
): MoveResult {
  const { code = null, message = null, hint = null } = why ?? {}
  return { id, outcome, code, message, hint }
}
