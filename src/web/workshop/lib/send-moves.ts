import type { Id } from '../../../domain/record.ts'
import type { Move, MoveBody, MoveResult } from '../../../domain/workshop/moves.ts'
import { AppError } from '../../../errors.ts'
import { call } from '../../lib/api.ts'
import { askAboutText, type CareQuestion } from '../../lib/care-question.ts'
import { newId } from '../../lib/ids.ts'

/** A move that was made here. Sending it again, after any failure, does it once. */
export interface MadeMove {
  readonly id: Id
  /** Steady milliseconds; the server learns the age, not the device's time of day. */
  readonly madeAt: number
  readonly body: MoveBody & { readonly tableId?: Id | undefined }
}

/** What sending needs from its surroundings; tests bring their own. */
export interface SendSurroundings {
  readonly post: (roomId: Id, moves: Move[]) => Promise<{ results: MoveResult[] }>
  readonly steady: () => number
  readonly ask: (question: CareQuestion) => Promise<boolean>
}

/**
 * A move as of now.
 *
 * @param body What is done; `tableId` where the facilitator does it for a table.
 */
export function makeMove(body: MadeMove['body']): MadeMove {
  return { id: newId(), madeAt: performance.now(), body }
}

const IDENTIFIER = 'care.looks_like_identifier'

const refusalOf = ({ code, message, hint }: MoveResult): AppError =>
  new AppError(
    code ?? 'client.bad_answer',
    message ?? 'The server refused this without a reason.',
    hint ?? 'Load the page again; if it happens again, tell whoever runs this server.',
  )

/** Sends moves in order. Text that looks like a patient's identifier is asked about on the way. */
export function createSend(around: SendSurroundings) {
  return async function send(roomId: Id, moves: readonly MadeMove[]): Promise<void> {
    const sent = (made: MadeMove, textChecked: boolean): Move => ({
      ...made.body,
      id: made.id,
      ageMs: Math.max(0, Math.round(around.steady() - made.madeAt)),
      ...(textChecked ? { textChecked } : {}),
    })
    const post = async (made: readonly MadeMove[], textChecked: boolean) => {
      if (made.length === 0) return []
      const { results } = await around.post(
        roomId,
        made.map((move) => sent(move, textChecked)),
      )
      return results.filter(({ outcome }) => outcome === 'refused')
    }
    let refused = await post(moves, false)
    const asked = moves.filter(({ id }) =>
      refused.some((result) => result.id === id && result.code === IDENTIFIER),
    )
    const first = refused.find(({ code }) => code === IDENTIFIER)
    if (first !== undefined) {
      const body = asked.map((made) => made.body)
      if (await around.ask({ error: refusalOf(first), body })) {
        const again = await post(asked, true)
        refused = [...refused.filter(({ code }) => code !== IDENTIFIER), ...again]
      }
    }
    if (refused[0] !== undefined) throw refusalOf(refused[0])
  }
}

/**
 * Sends moves to their room. Resolves when the server has them all.
 *
 * Rejects with an `AppError`: the first refusal, or that the server does not answer; then the same
 * moves can be sent again.
 */
export const sendMoves = createSend({
  post: (roomId, moves) =>
    call('POST /api/rooms/:id/moves', { params: { id: roomId }, body: { moves } }),
  steady: () => performance.now(),
  ask: askAboutText,
})
