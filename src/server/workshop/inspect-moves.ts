import type { Id } from '../../domain/record.ts'
import type { Look } from '../../domain/workshop/inspecting.ts'
import { kitOf } from '../../domain/workshop/table-state.ts'
import { AppError } from '../../errors.ts'
import {
  type Done,
  type MoveContext,
  type MoveOf,
  nameOf,
  type TrialToMove,
  trialToMove,
} from './move-context.ts'
import { inspectionsOf, observeQuality } from './observe-trial.ts'

/** One inspector's look at a trial; looking again replaces what the same one saw before. */
export async function inspect(context: MoveContext, move: MoveOf<'inspect'>): Promise<Done> {
  const whole = await trialToMove(context, move)
  const items = itemsOf(context)
  if (move.marks.length !== items)
    throw new AppError(
      'room.marks_length',
      `The checklist has ${items} items; there are ${move.marks.length} marks.`,
      'Reload the page and inspect again.',
      { items, marks: move.marks.length },
    )
  return look(context, whole, move.inspectionId, { marks: move.marks, rightCount: null })
}

/** How many items were right, from a sheet that does not say which. */
export async function countRight(context: MoveContext, move: MoveOf<'count-right'>): Promise<Done> {
  const whole = await trialToMove(context, move)
  const items = itemsOf(context)
  const { right } = move
  if (right > items)
    throw new AppError(
      'room.right_count',
      `The checklist has ${items} items; ${right} cannot be right.`,
      `Give a count from 0 to ${items}.`,
      { items, right },
    )
  // All or none say of every item what it was.
  const known = right === items ? 1 : right === 0 ? 0 : null
  return look(context, whole, move.inspectionId, {
    marks: Array.from({ length: items }, () => known),
    rightCount: known === null ? right : null,
  })
}

const itemsOf = ({ room }: MoveContext) => kitOf(room).checklist.length

async function look(
  context: MoveContext,
  whole: TrialToMove,
  inspectionId: Id,
  seen: Look,
): Promise<Done> {
  const { write, mover, at } = context
  const trialId = whole.trial.id
  const seatId = mover.seat?.id ?? null
  const there = await inspectionsOf(context, trialId)
  const own = there.find(
    ({ id, seatId: by }) => (id === inspectionId || by !== null) && by === seatId,
  )
  const fields = {
    marks: JSON.stringify(seen.marks),
    rightCount: seen.rightCount,
    by: nameOf(mover) || whole.table.name,
    at,
  }
  if (own === undefined)
    await write.insert('inspection', { ...fields, id: inspectionId, trialId, seatId, version: 1 })
  else await write.update('inspection', own.id, null, fields)
  if (whole.decision === null) await observeQuality(context, whole)
  return { tableId: whole.table.id }
}
