import type { Routes } from '../../api/contract.ts'
import type { MoveResult } from '../../domain/workshop/moves.ts'
import { AppError } from '../../errors.ts'
import { lastRoomSeq } from '../../storage/room-feed.ts'
import type { Call } from '../call.ts'
import { doMove, result } from './do-move.ts'

type Name = 'POST /api/rooms/:id/moves'

/** Does a batch of moves in order; one that cannot be done stops none of the others. */
export async function doMoves(call: Call<Name>): Promise<Routes[Name]['reply']> {
  const { move } = await import('../../api/moves.ts')
  const { db, params, body, asker, at } = call
  const results: MoveResult[] = []
  let last: number | null = null
  for (const sent of body.moves as readonly unknown[]) {
    const read = move.safeParse(sent)
    if (read.success) {
      const { seq, ...done } = await doMove(db, params, asker.mover, read.data, at)
      results.push(done)
      last = seq ?? last
    } else results.push(result({ id: idOf(sent) }, 'refused', unreadable(read.error.issues[0])))
  }
  // What was done before is in what was written before.
  return { results, seq: last ?? (await lastRoomSeq(db.read)) }
}

function unreadable(issue: { path: PropertyKey[]; message: string } | undefined): AppError {
  const field = issue?.path.join('.') ?? ''
  return new AppError(
    'request.invalid',
    `The move is not what this takes: ${field === '' ? '' : `${field}: `}${issue?.message ?? ''}.`,
    'Reload the page; if it goes on, tell the facilitator.',
  )
}

function idOf(sent: unknown): string {
  const id = typeof sent === 'object' && sent !== null && 'id' in sent ? sent.id : ''
  return typeof id === 'string' ? id.slice(0, 40) : ''
}
