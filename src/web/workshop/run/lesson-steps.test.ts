import { describe, expect, it } from 'vitest'
import {
  openRound,
  ROOM_NOW,
  sampleRoom,
  secondsBefore,
} from '../../../../tests/support/sample-room.ts'
import type { RoomState, RoomView, RoundState } from '../../../domain/workshop/room-state.ts'
import { backTo, momentStep, nextStep } from './lesson-steps.ts'

const NOW = Date.parse(ROOM_NOW)
const plan = (seconds: number) => ({
  kind: 'plan' as const,
  startedAt: secondsBefore(60),
  endsAt: secondsBefore(-seconds),
})

function inRound(
  room: Partial<RoomView>,
  change: (place: number) => Partial<RoundState>,
): RoomState {
  const state = sampleRoom({ round: 3, ...room }, { as: 'lead' }, 2)
  return {
    ...state,
    tables: state.tables.map((t) => ({
      ...t,
      rounds: [...t.rounds, { ...openRound(t.place, 3), ...change(t.place) }],
    })),
  }
}

describe('the steps of the lesson', () => {
  it('begin with planning round 1, in its time box', () => {
    const step = nextStep(sampleRoom({ moment: 'join', round: 0 }, { as: 'lead' }, 0), 5)
    expect(step?.label).toBe('Begin round 1: plan and predict')
    expect(step?.moves).toEqual([
      { kind: 'round', round: 1 },
      { kind: 'moment', moment: 'predict' },
      { kind: 'talking-point', index: 0 },
      { kind: 'countdown', of: 'plan', seconds: 240 },
    ])
  })

  it('start all clocks at one instant, and say who has not locked', () => {
    const state = inRound({ moment: 'predict', countdown: plan(100) }, (place) =>
      place <= 5 ? { stage: 'ready', lockedAt: ROOM_NOW } : {},
    )
    const step = nextStep(state, 5)
    expect(step).toMatchObject({
      label: 'Start round 3 for all in 5 s',
      early: '5 of 6 tables have locked.',
    })
    expect(step?.moves).toEqual([
      { kind: 'moment', moment: 'running' },
      { kind: 'talking-point', index: 0 },
      { kind: 'countdown', of: 'start', seconds: 5 },
    ])
  })

  it('say nothing of tables that the class does not wait for', () => {
    const state = inRound({ moment: 'predict' }, (place) =>
      place <= 5 ? { stage: 'ready', lockedAt: ROOM_NOW } : {},
    )
    const without = {
      ...state,
      tables: state.tables.map((t) => (t.place === 6 ? { ...t, excused: [3] } : t)),
    }
    expect(nextStep(without, 5)?.early).toBe('')
  })

  it('let each table start its own clock where tables run alone', () => {
    const state = inRound({ moment: 'predict', countdown: plan(10) }, () => ({}))
    const { settings } = state.room
    const alone = {
      ...state,
      room: { ...state.room, settings: { ...settings, pace: 'alone' as const } },
    }
    expect(nextStep(alone, 5)?.moves).toEqual([
      { kind: 'moment', moment: 'running' },
      { kind: 'talking-point', index: 0 },
      { kind: 'countdown', of: 'plan', seconds: 0 },
    ])
  })

  it('go from running over compare and debrief to the next round, and wrap up after the last', () => {
    const at = (room: Partial<RoomView>) => nextStep(sampleRoom({ round: 3, ...room }), 5)?.label
    expect(at({ moment: 'running' })).toBe('Compare round 3')
    expect(at({ moment: 'compare' })).toBe('Debrief round 3')
    expect(at({ moment: 'debrief' })).toBe('Begin round 4: plan and predict')
    expect(at({ moment: 'debrief', round: 4 })).toBe('Wrap up')
    expect(at({ moment: 'wrap-up' })).toBeUndefined()
  })

  it('go back to where the class was, with what is left of the countdown', () => {
    const { room } = sampleRoom({
      moment: 'predict',
      round: 2,
      talkingPoint: 1,
      countdown: plan(90),
    })
    expect(backTo(room, NOW + 30_000)).toEqual([
      { kind: 'moment', moment: 'predict' },
      { kind: 'round', round: 2 },
      { kind: 'talking-point', index: 1 },
      { kind: 'countdown', of: 'plan', seconds: 60 },
    ])
    expect(backTo(room, NOW + 100_000).at(-1)).toEqual({
      kind: 'countdown',
      of: 'plan',
      seconds: 0,
    })
  })

  it('can be taken out of turn, without touching a countdown that is not there', () => {
    expect(momentStep(sampleRoom({ moment: 'compare' }), 'predict').moves).toEqual([
      { kind: 'moment', moment: 'predict' },
      { kind: 'talking-point', index: 0 },
    ])
  })
})
