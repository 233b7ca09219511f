import { beforeEach, describe, expect, it } from 'vitest'
import type { Move, MoveBody, MoveResult } from '../domain/workshop/moves.ts'
import { AppError } from '../errors.ts'
import type { ClockReading } from './clock.ts'
import { pageShelf } from './kept.ts'
import { dropSeen, type Outbox, openOutbox, type Post, sendWaiting, unsent } from './outbox.ts'

const at = (ms: number): ClockReading => ({
  ...{ steady: ms, wall: 1_000_000 + ms, page: 'one', visible: true, server: null },
})
const start = (round: number): MoveBody => ({ kind: 'start', round, trialId: `trial ${round}` })
const plan = (strategy: string): MoveBody => ({
  ...{ kind: 'plan', round: 1, strategy, time: null, quality: null, confidence: 0.8, why: '' },
})
const done = (moves: readonly Move[], seq = 7) => ({
  results: moves.map(({ id }) => ({
    ...{ id, outcome: 'done' as const, code: null, message: null, hint: null },
  })),
  seq,
})
const refuse = (id: string, code: string): MoveResult => ({
  ...{ id, outcome: 'refused', code, message: 'No.', hint: 'Do this.' },
})
const kindOf = (box: Outbox) => box.all().map(({ id, standing }) => `${id} ${standing}`)

let box: Outbox
beforeEach(() => {
  box = openOutbox(pageShelf(), 'out.')
})

describe('an outbox', () => {
  it('keeps moves in the order in which they were made, whatever their ids', () => {
    box.add('z', start(1), at(0))
    box.add('a', start(2), at(10))
    expect(box.all().map(({ id }) => id)).toEqual(['z', 'a'])
  })

  it('takes a move once', () => {
    box.add('a', start(1), at(0))
    box.add('a', start(1), at(5))
    expect(box.all()).toHaveLength(1)
  })

  it('is the same for two pages of one browser', () => {
    const shelf = pageShelf()
    const [one, two] = [openOutbox(shelf, 'out.'), openOutbox(shelf, 'out.')]
    one.add('a', start(1), at(0))
    two.add('b', start(2), at(0))
    expect(one.all().map(({ id }) => id)).toEqual(['a', 'b'])
  })

  it('keeps only the last wording of a plan that waits', () => {
    box.add('a', plan('one'), at(0))
    box.add('b', plan('two'), at(10))
    box.add('c', { ...plan('two'), kind: 'lock' } as MoveBody, at(20))
    expect(box.all().map(({ id }) => id)).toEqual(['c'])
  })

  it('drops what the state shows by now', () => {
    box.add('a', start(1), at(0))
    box.change('a', { standing: 'taken', seq: 9 })
    dropSeen(box, 8)
    expect(box.all()).toHaveLength(1)
    dropSeen(box, 9)
    expect(box.all()).toEqual([])
  })
})

describe('sending', () => {
  it('says how old each move is by then', async () => {
    box.add('a', start(1), at(0))
    box.add('b', start(2), at(4000))
    const sent: Move[] = []
    const post: Post = async (moves) => {
      sent.push(...moves)
      return done(moves)
    }
    expect(await sendWaiting(box, post, () => at(600_000))).toBe('sent')
    expect(sent.map(({ id, ageMs }) => [id, ageMs])).toEqual([
      ['a', 600_000],
      ['b', 596_000],
    ])
    expect(box.all().map(({ standing, seq }) => [standing, seq])).toEqual([
      ['taken', 7],
      ['taken', 7],
    ])
  })

  it('keeps everything when the server cannot be reached', async () => {
    box.add('a', start(1), at(0))
    const post: Post = async () => {
      throw new AppError('client.offline', 'The server does not answer.', '')
    }
    await expect(sendWaiting(box, post, () => at(1))).rejects.toThrow('does not answer')
    expect(unsent(box.all())).toHaveLength(1)
  })

  it.each([401, 403, 429, 500, 503])('keeps everything on status %i', async (status) => {
    box.add('a', start(1), at(0))
    const post: Post = async () => {
      throw new AppError('auth.needed', 'No.', '', { status })
    }
    await expect(sendWaiting(box, post, () => at(1))).rejects.toThrow('No.')
    expect(unsent(box.all())).toHaveLength(1)
  })

  it('goes on past a move that is refused, and keeps that one with its reason', async () => {
    for (const id of ['a', 'b']) box.add(id, start(1), at(0))
    const post: Post = async (moves) => {
      const { results, seq } = done(moves)
      return { results: [refuse('a', 'cycle.locked'), ...results.slice(1)], seq }
    }
    expect(await sendWaiting(box, post, () => at(1))).toBe('sent')
    expect(kindOf(box)).toEqual(['a refused', 'b taken'])
    expect(box.all()[0]).toMatchObject({ code: 'cycle.locked', message: 'No.', hint: 'Do this.' })
  })

  it('finds the one move for which a whole request is refused', async () => {
    for (const id of ['a', 'b', 'c']) box.add(id, start(1), at(0))
    const post: Post = async (moves) => {
      if (moves.some(({ id }) => id === 'b'))
        throw new AppError('request.invalid', 'Bad.', 'Mend it.', { status: 400 })
      return done(moves)
    }
    expect(await sendWaiting(box, post, () => at(1))).toBe('sent')
    expect(kindOf(box)).toEqual(['a taken', 'b refused', 'c taken'])
  })

  it('waits with what follows a question, and sends it once answered', async () => {
    for (const id of ['a', 'b']) box.add(id, start(1), at(0))
    const sent: Move[] = []
    const post: Post = async (moves) => {
      sent.push(...moves)
      if (moves[0]!.id === 'a' && moves[0]!.textChecked !== true)
        return { results: [refuse('a', 'care.looks_like_identifier')], seq: 3 }
      return done(moves)
    }
    expect(await sendWaiting(box, post, () => at(1))).toBe('asking')
    expect(kindOf(box)).toEqual(['a asking', 'b waiting'])
    box.change('a', { standing: 'waiting', textChecked: true })
    expect(await sendWaiting(box, post, () => at(1))).toBe('sent')
    expect(sent.at(-2)).toMatchObject({ id: 'a', textChecked: true })
    expect(kindOf(box)).toEqual(['a taken', 'b taken'])
  })
})
