import { describe, expect, it } from 'vitest'
import { openRound, sampleRoom, sampleTable } from '../../tests/support/sample-room.ts'
import type { MoveBody } from '../domain/workshop/moves.ts'
import type { RoomState, RoundState } from '../domain/workshop/room-state.ts'
import { ownTable, withMoves } from './optimistic.ts'

const table = sampleTable(1, [{ ...openRound(1, 1), strategy: '' }], 'Kestrel')
const seatId = table.seats[0]!.id
const state: RoomState = {
  ...sampleRoom({}, { as: 'table', tableId: table.id, seatId }, 0),
  tables: [table],
}
const plan = {
  ...{ round: 1, strategy: 'Two hands', confidence: 0.8, why: 'Shorter ways' },
  time: { low: 38, expected: 45, high: 55 },
  quality: { low: 1, expected: 1, high: 1 },
} as const
const marks = (...wrong: number[]) =>
  Array.from({ length: 12 }, (_, i) => (wrong.includes(i) ? 0 : 1) as 0 | 1)
const lock: MoveBody = { kind: 'lock', ...plan }
const start: MoveBody = { kind: 'start', round: 1, trialId: 'T1' }
const stop: MoveBody = {
  ...{ kind: 'stop', round: 1, trialId: 'T1', readingId: 'R1', seconds: 41.3 },
  ...{ how: 'steady-clock', note: '' },
}
const inspect: MoveBody = { kind: 'inspect', trialId: 'T1', inspectionId: 'I1', marks: marks(3) }
const decide: MoveBody = {
  ...{ kind: 'decide', round: 1, surprises: '', learned: 'Hands wait.', decision: 'adapt' },
  ...{ predictionReview: 'Inside.', reason: 'Quicker', nextChange: 'Card in the middle' },
}

const SECOND = 1000
function play(from: RoomState, ...moves: MoveBody[]): RoundState[] {
  const base = Date.parse('2026-03-02T09:00:00Z')
  const local = moves.map((body, i) => ({
    body,
    at: new Date(base + i * 42 * SECOND).toISOString(),
  }))
  return [...ownTable(withMoves(from, local))!.rounds]
}

describe('a round played out of reach', () => {
  it.each([
    ['plan', [{ kind: 'plan', ...plan }]],
    ['ready', [lock]],
    ['running', [lock, start]],
    ['inspect', [lock, start, stop]],
    ['debrief', [lock, start, stop, inspect]],
    ['done', [lock, start, stop, inspect, decide]],
  ] satisfies [string, MoveBody[]][])('comes to %s', (stage, moves) => {
    expect(play(state, ...moves)[0]!.stage).toBe(stage)
  })

  it('has its time, its items and its score', () => {
    const [round] = play(state, lock, start, stop, inspect)
    expect(round).toMatchObject({ seconds: 41.3, right: 11, inspected: 12, score: 2 })
  })

  it('goes on to the next round, which nobody has opened yet', () => {
    const next: MoveBody = { kind: 'plan', ...plan, round: 2 }
    const rounds = play(state, lock, start, stop, inspect, decide, next)
    expect(rounds.map(({ number, stage }) => [number, stage])).toEqual([
      [1, 'done'],
      [2, 'plan'],
    ])
  })

  it('changes nothing that the state shows already', () => {
    const moves = [lock, start, stop, inspect, decide]
    const seen: RoomState = { ...state, tables: [{ ...table, rounds: play(state, ...moves) }] }
    expect(play(seen, ...moves)).toEqual(seen.tables[0]!.rounds)
  })

  it('is ready again after a void, and as before when that is taken back', () => {
    const away: MoveBody = { kind: 'void', trialId: 'T1', reason: 'The tray fell' }
    expect(play(state, lock, start, stop, away)[0]!).toMatchObject({
      stage: 'ready',
      seconds: null,
    })
    expect(
      play(state, lock, start, stop, away, { kind: 'unvoid', trialId: 'T1' })[0]!,
    ).toMatchObject({ stage: 'inspect', seconds: 41.3 })
  })
})

describe('two timers', () => {
  const [started] = play(state, lock, start)
  const trial = {
    ...started!.trials[0]!,
    startedBySeatId: 'another',
    readings: [
      { ...{ id: 'R0', seatId: 'another', by: 'B', seconds: 44, note: '', kept: null } },
    ].map((reading) => ({ ...reading, how: 'steady-clock' as const })),
  }
  const other: RoomState = {
    ...state,
    tables: [{ ...table, rounds: [{ ...started!, trials: [trial] }] }],
  }
  /** Its own trial, since it did not know of the other's. */
  const own = (seconds: number): MoveBody => ({ ...stop, trialId: 'T9', seconds }) as MoveBody
  const playLate = (seconds: number) =>
    ownTable(
      withMoves(other, [
        { body: own(seconds), at: new Date(Date.parse(trial.startedAt) + 44_500).toISOString() },
      ]),
    )!.rounds[0]!

  it('are two readings of one trial, and their mean counts', () => {
    expect(playLate(43)).toMatchObject({ seconds: 43.5 })
    expect(playLate(43).trials).toHaveLength(1)
  })

  it('are not settled where they are too far apart, until the table says which to keep', () => {
    const apart = playLate(40)
    expect(apart.trials[0]).toMatchObject({ seconds: null, unsettled: true })
    const after: RoomState = { ...state, tables: [{ ...table, rounds: [apart] }] }
    const kept = play(after, { kind: 'keep', trialId: 'T1', readingId: 'R1', why: 'Dropped it' })
    expect(kept[0]).toMatchObject({ seconds: 40 })
  })
})

it('counts an item as right where every inspector who looked says so', () => {
  const second: MoveBody = { ...inspect, inspectionId: 'I2', marks: marks(5) } as MoveBody
  expect(play(state, lock, start, stop, inspect, second)[0]).toMatchObject({ right: 10 })
})

it('leaves other tables and a screen alone', () => {
  const screen: RoomState = { ...state, viewer: { as: 'screen' } }
  expect(withMoves(screen, [{ body: lock, at: state.now }])).toBe(screen)
})
