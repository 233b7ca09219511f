import { describe, expect, it } from 'vitest'
import type { Move, MoveResult } from '../../../domain/workshop/moves.ts'
import { AppError } from '../../../errors.ts'
import { createSend, makeMove } from './send-moves.ts'

const done = (id: string): MoveResult => ({
  id,
  outcome: 'done',
  code: null,
  message: null,
  hint: null,
})
const refused = (id: string, code: string): MoveResult => ({
  id,
  outcome: 'refused',
  code,
  message: `Refused: ${code}.`,
  hint: 'Do something else.',
})

function setUp(answer: (moves: Move[]) => MoveResult[], save = true) {
  const posts: Move[][] = []
  const asked: AppError[] = []
  let steady = 1000
  const send = createSend({
    post: async (_, moves) => {
      posts.push(moves)
      return { results: answer(moves) }
    },
    steady: () => steady,
    ask: async ({ error }) => {
      asked.push(error)
      return save
    },
  })
  return {
    send,
    posts,
    asked,
    pass: (ms: number) => {
      steady += ms
    },
  }
}

describe('sending moves', () => {
  it('sends a move with its id and its age by the steady clock', async () => {
    const { send, posts, pass } = setUp((moves) => moves.map(({ id }) => done(id)))
    const made = { ...makeMove({ kind: 'pace', pace: 'alone' }), madeAt: 1000 }
    pass(1500)
    await send('room', [made])
    expect(posts[0]).toEqual([{ kind: 'pace', pace: 'alone', id: made.id, ageMs: 1500 }])
  })

  it('keeps the id when the same move is sent again', async () => {
    let away = true
    const { send, posts } = setUp((moves) => {
      if (away) throw new AppError('client.offline', 'The server does not answer.', '')
      return moves.map(({ id }) => ({ ...done(id), outcome: 'already' as const }))
    })
    const made = makeMove({ kind: 'close' })
    await expect(send('room', [made])).rejects.toMatchObject({ code: 'client.offline' })
    away = false
    await send('room', [made])
    expect(posts.map(([move]) => move?.id)).toEqual([made.id, made.id])
  })

  it('says what was refused, and does the others all the same', async () => {
    const { send, posts } = setUp(([a, b]) => [refused(a!.id, 'room.closed'), done(b!.id)])
    const moves = [makeMove({ kind: 'close' }), makeMove({ kind: 'notes', text: 'x' })]
    await expect(send('room', moves)).rejects.toMatchObject({
      code: 'room.closed',
      hint: 'Do something else.',
    })
    expect(posts).toHaveLength(1)
  })

  const looksLike = (moves: Move[]) =>
    moves.map((move) =>
      move.kind === 'notes' && !move.textChecked
        ? refused(move.id, 'care.looks_like_identifier')
        : done(move.id),
    )

  it('asks about text that looks like an identifier, and sends only that again', async () => {
    const { send, posts, asked } = setUp(looksLike)
    const [notes, pace] = [
      makeMove({ kind: 'notes', text: '943 476 5919' }),
      makeMove({ kind: 'pace', pace: 'alone' }),
    ]
    await send('room', [notes, pace])
    expect(asked).toHaveLength(1)
    expect(posts[1]).toMatchObject([{ id: notes.id, textChecked: true }])
  })

  it('leaves the text unsent where the person goes back to edit it', async () => {
    const { send, posts } = setUp(looksLike, false)
    await expect(
      send('room', [makeMove({ kind: 'notes', text: '943 476 5919' })]),
    ).rejects.toMatchObject({ code: 'care.looks_like_identifier' })
    expect(posts).toHaveLength(1)
  })
})
