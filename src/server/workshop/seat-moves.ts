import type { Done, MoveContext, MoveOf } from './move-context.ts'
import { notYours } from './refusals.ts'

function ownSeat({ mover }: MoveContext, kind: string) {
  if (mover.seat === null) throw notYours(kind)
  return mover.seat
}

/** What a phone calls itself, and what it does at its table. */
export async function seat(context: MoveContext, move: MoveOf<'seat'>): Promise<Done> {
  const own = ownSeat(context, move.kind)
  await context.write.update('roomSeat', own.id, null, {
    name: move.name,
    roles: JSON.stringify([...new Set(move.roles)]),
  })
  return { tableId: own.tableId }
}

export async function confidence(context: MoveContext, move: MoveOf<'confidence'>): Promise<Done> {
  const own = ownSeat(context, move.kind)
  await context.write.update(
    'roomSeat',
    own.id,
    null,
    move.when === 'before' ? { confidenceBefore: move.value } : { confidenceAfter: move.value },
  )
  return { tableId: own.tableId }
}
