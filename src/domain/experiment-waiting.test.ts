import { describe, expect, it } from 'vitest'
import { experiment, run } from '../../tests/support/experiment-records.ts'
import { experimentWaitingFor } from './experiment-waiting.ts'

const LOCKED = '2026-03-02T09:00:00.000Z'
const locked = experiment({ lockedAt: LOCKED })
const done = (position: number, at: string) => run(position, { response: 12, at, byId: 'P1' })
const open = [run(1), run(2), run(3), run(4)]

describe('experimentWaitingFor', () => {
  it('a plan waits for its lock from the day it was made', () => {
    expect(experimentWaitingFor(experiment(), [])).toEqual({
      kind: 'lock',
      since: '2026-02-27T08:00:00.000Z',
      text: 'The plan is not locked: predict, then lock it to draw the order of the runs.',
    })
  })

  it.each([
    ['all open', open, LOCKED, 'No run is in. Next is run 1.'],
    [
      'the first and third done, the third first',
      [done(1, '2026-03-04T10:00:00.000Z'), run(2), done(3, '2026-03-03T10:00:00.000Z'), run(4)],
      '2026-03-04T10:00:00.000Z',
      '2 of 4 runs are in. Next is run 2.',
    ],
    [
      'one left, and one left out without a response',
      [
        done(1, '2026-03-04T10:00:00.000Z'),
        run(2, { leftOutReason: 'The clock stopped.' }),
        done(3, '2026-03-05T10:00:00.000Z'),
        run(4),
      ],
      '2026-03-05T10:00:00.000Z',
      'One run is still to do: run 4.',
    ],
  ])('runs wait from the last response: %s', (_case, runs, since, text) => {
    expect(experimentWaitingFor(locked, runs)).toEqual({ kind: 'collect', since, text })
  })

  it('what was learned waits once every run is in, until it is written', () => {
    const runs = [1, 2, 3, 4].map((n) => done(n, `2026-03-0${n + 2}T10:00:00.000Z`))
    expect(experimentWaitingFor(locked, runs)).toEqual({
      kind: 'study',
      since: '2026-03-06T10:00:00.000Z',
      text: 'Every run is in. Read which changes made a difference, and write what was learned.',
    })
    expect(experimentWaitingFor({ ...locked, learned: ' ' }, runs)?.kind).toBe('study')
    expect(experimentWaitingFor({ ...locked, learned: 'Only the box matters.' }, runs)).toBeNull()
  })
})
