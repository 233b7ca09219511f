import type { Id, Instant } from '../domain/record.ts'
import type { Move, MoveBody, MoveResult } from '../domain/workshop/moves.ts'
import { AppError } from '../errors.ts'
import { ageOf, type ClockReading } from './clock.ts'
import { keep, namesOf, readKept, type Shelf } from './kept.ts'

/** A move on its way to the server. */
export interface OutMove {
  readonly id: Id
  readonly body: MoveBody
  readonly made: ClockReading
  readonly textChecked: boolean
  /**
   * `taken`: the server has it, and the state on the screen may not show it yet. `asking`: it may
   * point at a patient and waits for an answer; what was made after it waits too.
   */
  readonly standing: 'waiting' | 'taken' | 'asking' | 'refused'
  /** Where `taken`: from this state on the server's own shows it. */
  readonly seq: number
  readonly code: string
  readonly message: string
  readonly hint: string
}

export interface Outbox {
  readonly all: () => OutMove[]
  readonly add: (id: Id, body: MoveBody, made: ClockReading) => void
  readonly change: (id: Id, part: Partial<OutMove>) => void
  readonly drop: (id: Id) => void
}

/**
 * The moves that a device has made, in order, one entry each so that two pages of one browser do
 * not write over each other's.
 */
export function openOutbox(shelf: Shelf, prefix: string): Outbox {
  const nameOf = (id: Id) => namesOf(shelf, prefix).find((name) => name.endsWith(`.${id}`))
  const all = () =>
    namesOf(shelf, prefix)
      .map((name) => readKept<OutMove>(shelf, name))
      .filter((move) => move !== null)
  return {
    all,
    add(id, body, made) {
      if (nameOf(id) !== undefined) return
      // Only the last wording of a plan matters; a lock takes the plan with it.
      if (body.kind === 'plan' || body.kind === 'lock')
        for (const { id: earlier, body: was, standing } of all())
          if (was.kind === 'plan' && was.round === body.round && standing === 'waiting')
            shelf.removeItem(nameOf(earlier)!)
      const last = namesOf(shelf, prefix).at(-1)
      const place = last === undefined ? 1 : Number(last.slice(prefix.length).split('.')[0]) + 1
      const move: OutMove = {
        ...{ id, body, made, textChecked: false, standing: 'waiting', seq: 0 },
        ...{ code: '', message: '', hint: '' },
      }
      keep(shelf, `${prefix}${String(place).padStart(8, '0')}.${id}`, move)
    },
    change(id, part) {
      const name = nameOf(id)
      const was = name === undefined ? null : readKept<OutMove>(shelf, name)
      if (was !== null) keep(shelf, name!, { ...was, ...part })
    },
    drop(id) {
      const name = nameOf(id)
      if (name !== undefined) shelf.removeItem(name)
    },
  }
}

/** Moves that the state does not show yet, for `withMoves`. */
export const pending = (moves: readonly OutMove[]) =>
  moves.filter(({ standing }) => standing !== 'refused')
export const unsent = (moves: readonly OutMove[]) =>
  moves.filter(({ standing }) => standing === 'waiting' || standing === 'asking')

/** Takes out what the server's state shows by now. */
export function dropSeen(box: Outbox, seq: number): void {
  for (const move of box.all()) if (move.standing === 'taken' && move.seq <= seq) box.drop(move.id)
}

export type Post = (moves: readonly Move[]) => Promise<{ results: MoveResult[]; seq: number }>

const BATCH = 40
const CARE = 'care.looks_like_identifier'
/** Refusals of the sender, or of the moment, not of what is sent: it will be taken later. */
const LATER: ReadonlySet<unknown> = new Set([undefined, 401, 403, 404, 408, 429])
const isLater = ({ details: { status } }: AppError) =>
  LATER.has(status) || (typeof status === 'number' && status >= 500)

/**
 * Sends what waits, in order.
 *
 * @returns Whether all is sent, or the queue waits for an answer of the person.
 * @throws AppError Where the server cannot be reached, or does not know the sender.
 */
export async function sendWaiting(
  box: Outbox,
  post: Post,
  now: () => ClockReading,
): Promise<'sent' | 'asking'> {
  let size = BATCH
  for (;;) {
    const queue = unsent(box.all())
    const stop = queue.findIndex(({ standing }) => standing === 'asking')
    const batch = queue.slice(0, stop === -1 ? size : Math.min(stop, size))
    if (batch.length === 0) return stop === -1 ? 'sent' : 'asking'
    try {
      const at = now()
      const { results, seq } = await post(batch.map((move) => asSent(move, at)))
      for (const result of results) settle(box, result, seq)
      if (results.length === 0)
        throw new AppError(
          'client.bad_answer',
          'The server did not say what became of the moves.',
          'They are kept on this phone and sent again.',
        )
    } catch (error) {
      if (!(error instanceof AppError) || isLater(error)) throw error
      // Something in the batch is refused as a whole: find out which, one by one.
      if (batch.length > 1) size = 1
      else {
        const { code, message, hint } = error
        settle(box, { id: batch[0]!.id, outcome: 'refused', code, message, hint }, 0)
        size = BATCH
      }
    }
  }
}

const asSent = (move: OutMove, now: ClockReading): Move => ({
  ...move.body,
  id: move.id,
  ageMs: ageOf(move.made, now),
  ...(move.textChecked ? { textChecked: true } : {}),
})

function settle(box: Outbox, result: MoveResult, seq: number): void {
  const { id, outcome, code, message, hint } = result
  if (outcome !== 'refused') box.change(id, { standing: 'taken', seq })
  else
    box.change(id, {
      standing: code === CARE ? 'asking' : 'refused',
      code: code ?? '',
      message: message ?? '',
      hint: hint ?? '',
    })
}

/** When a move was made, as an instant, for showing it before the server has it. */
export const instantOf = (move: OutMove): Instant =>
  new Date(move.made.server ?? move.made.wall).toISOString()
