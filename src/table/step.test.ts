import { describe, expect, it } from 'vitest'
import {
  openRound,
  SAMPLE_SETTINGS,
  sampleRoom,
  sampleRound,
  sampleTable,
  sampleTrial,
} from '../../tests/support/sample-room.ts'
import type { RoomSettings, SeatRole } from '../domain/workshop/room.ts'
import type { RoomState, RoomView, RoundState } from '../domain/workshop/room-state.ts'
import { changesParts, type OwnSide, whereIs } from './step.ts'

const ALL: SeatRole[] = ['builder', 'timer', 'recorder', 'inspector']
const done = sampleRound(1, 1, { seconds: 60, right: 12, low: 50, high: 70 })
const open = (part: Partial<RoundState>): RoundState => ({
  ...openRound(1, 1),
  strategy: '',
  ...part,
})
const trial = sampleTrial('T', 44, null)

function at(
  rounds: RoundState[],
  own: Partial<OwnSide> = {},
  settings: Partial<RoomSettings> = {},
  room: Partial<RoomView> = {},
  otherRoles: SeatRole[] = [],
) {
  const table = sampleTable(1, rounds, 'Kestrel')
  const seatId = table.seats[0]!.id
  const roles = own.roles ?? ALL
  const seats = [
    { ...table.seats[0]!, roles },
    { ...table.seats[0]!, id: 'other', roles: otherRoles },
  ]
  const view = {
    round: 4,
    settings: { ...SAMPLE_SETTINGS, asksConfidence: false, ...settings },
    ...room,
  }
  const state: RoomState = {
    ...sampleRoom(view, { as: 'table', tableId: table.id, seatId }),
    tables: [{ ...table, seats }],
  }
  const none = { seatId, roles, skipped: [], ahead: 0, taken: '', inspecting: null, timing: 0 }
  return whereIs(state, { ...none, ...own })
}

describe('a phone that does everything', () => {
  it.each([
    ['plan', []],
    ['plan', [open({})]],
    ['ready', [open({ stage: 'ready', lockedAt: 'x' })]],
    ['running', [open({ stage: 'running', lockedAt: 'x' })]],
    ['inspect', [open({ stage: 'inspect', lockedAt: 'x', trials: [trial] })]],
    ['keep', [open({ stage: 'inspect', trials: [{ ...trial, unsettled: true }] })]],
  ] satisfies [string, RoundState[]][])('comes to %s', (step, rounds) => {
    expect(at(rounds).step).toBe(step)
  })

  it('goes on to the next round, and finishes after the last', () => {
    expect(at([done])).toMatchObject({ step: 'plan', number: 2 })
    expect(at([done], {}, { rounds: 1 }).step).toBe('finished')
  })

  it('waits for the class where it works together, unless it goes ahead', () => {
    expect(at([done], {}, {}, { round: 1 }).step).toBe('wait')
    expect(at([done], { ahead: 2 }, {}, { round: 1 }).step).toBe('plan')
    expect(at([done], {}, { pace: 'alone' }, { round: 1 }).step).toBe('plan')
  })
})

it('asks first what a phone does, and thanks when the room is closed', () => {
  expect(at([], { roles: [] }).step).toBe('roles')
  expect(at([done], {}, {}, { closedAt: '2026-03-02T10:00:00Z' }).step).toBe('closed')
})

it('asks for confidence before the first lock and after the last round, unless it was declined', () => {
  const asks = { asksConfidence: true }
  expect(at([], {}, asks).step).toBe('confidence-before')
  expect(at([], { skipped: ['before'] }, asks).step).toBe('plan')
  expect(at([done], {}, { ...asks, rounds: 1 }).step).toBe('confidence-after')
})

describe('a table with several phones', () => {
  it('leaves the plan to the recorder, unless this phone takes it over', () => {
    const timer = { roles: ['timer'] as SeatRole[] }
    expect(at([open({})], timer, {}, {}, ['recorder']).step).toBe('watch-plan')
    expect(at([open({})], { ...timer, taken: 'plan 1' }, {}, {}, ['recorder']).step).toBe('plan')
    expect(at([open({})], timer).step).toBe('plan')
  })

  it('lets a phone that still times go on when another has stopped', () => {
    const round = open({ stage: 'inspect', trials: [trial] })
    expect(at([round], { timing: 1 }).step).toBe('running')
    expect(at([round], { timing: 2 }).step).toBe('inspect')
  })

  it('does not hurry a second inspector out of the checklist', () => {
    const inspections = [{ id: 'I', seatId: 'other', by: 'B', marks: [], rightCount: null }]
    const round = open({ stage: 'debrief', trials: [{ ...trial, inspections }] })
    expect(at([round], { roles: ['inspector'] }).step).toBe('inspect')
    expect(at([round]).step).toBe('debrief')
    expect(at([round], { inspecting: 'T' }).step).toBe('inspect')
  })
})

it('asks the people of a table to change parts from the second round on, where there are several', () => {
  const state = sampleRoom()
  const one = sampleTable(1, [], 'Kestrel')
  const two = { ...one, seats: [...one.seats, ...one.seats] }
  expect(changesParts(state, two, 2)).toBe(true)
  expect(changesParts(state, two, 1)).toBe(false)
  expect(changesParts(state, one, 2)).toBe(false)
})
