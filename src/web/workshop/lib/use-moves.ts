import { useCallback, useRef, useState } from 'react'
import type { Id } from '../../../domain/record.ts'
import type { AppError } from '../../../errors.ts'
import { asAppError } from '../../lib/api.ts'
import { offerUndo } from '../../lib/undo.ts'
import { type MadeMove, makeMove, sendMoves } from './send-moves.ts'

type Body = MadeMove['body']

interface Undo {
  /** What was done, as a sentence. */
  readonly text: string
  /** What takes it back; a function is called when Undo is pressed, as a countdown goes on until then. */
  readonly moves: readonly Body[] | (() => readonly Body[])
}

export interface Moves {
  /**
   * Does one or more things; resolves to whether the server took them.
   *
   */
  readonly act: (bodies: Body | readonly Body[], undo?: Undo) => Promise<boolean>
  readonly busy: boolean
  readonly error: AppError | null
  /** Sends the same moves again, where sending them failed; `null`: nothing waits. */
  readonly retry: (() => void) | null
  readonly clear: () => void
}

interface Failed {
  readonly error: AppError
  readonly retry: () => void
}

/** Refusals are final; anything else may be sent again. */
const mayRetry = ({ code }: AppError) => code.startsWith('client.')

/** What a facilitator does to a room, with undo and with errors shown. */
export function useMoves(roomId: Id): Moves {
  const [underWay, setUnderWay] = useState(0)
  const [failed, setFailed] = useState<Failed | null>(null)
  const latest = useRef(0)

  const act = useCallback<Moves['act']>(
    async (bodies, undo) => {
      const list = Array.isArray(bodies) ? (bodies as readonly Body[]) : [bodies as Body]
      const made = list.map(makeMove)
      const attempt = async (): Promise<boolean> => {
        const own = ++latest.current
        setUnderWay((n) => n + 1)
        try {
          await sendMoves(roomId, made)
          setFailed((before) => (own === latest.current ? null : before))
          if (undo !== undefined) {
            // Made at the first press, so that pressing again after a failure does it once.
            let back: MadeMove[] | null = null
            offerUndo(undo.text, () => {
              back ??= (typeof undo.moves === 'function' ? undo.moves() : undo.moves).map(makeMove)
              return sendMoves(roomId, back)
            })
          }
          return true
        } catch (thrown) {
          setFailed({ error: asAppError(thrown), retry: () => void attempt() })
          return false
        } finally {
          setUnderWay((n) => n - 1)
        }
      }
      return attempt()
    },
    [roomId],
  )
  return {
    act,
    busy: underWay > 0,
    error: failed?.error ?? null,
    retry: failed !== null && mayRetry(failed.error) ? failed.retry : null,
    clear: () => setFailed(null),
  }
}
