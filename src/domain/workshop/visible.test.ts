import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { RoomState, RoundState, TableState, Viewer } from './room-state.ts'
import { hasLocked, shownRounds, visibleTo } from './visible.ts'

const SECRET = /secret-(\d+)-(\d+)/g

interface Sketch {
  readonly firstRound: number
  readonly removed: boolean
  readonly excused: readonly number[]
  /** Of each round from the first: not begun, planned, or locked. */
  readonly rounds: readonly ('planned' | 'locked' | 'none')[]
}

function round(table: number, number: number, locked: boolean): RoundState {
  const secret = `secret-${table}-${number}`
  const expectation = { expected: 60, low: 50, high: 70 }
  return {
    number,
    cycleId: `C${table}-${number}`,
    stage: locked ? 'ready' : 'plan',
    lockedAt: locked ? '2026-03-02T09:15:00.000Z' : null,
    strategy: secret,
    predictions: { time: expectation, quality: expectation, confidence: 0.8, why: secret },
    withheld: false,
    trials: [],
    seconds: null,
    right: null,
    inspected: null,
    score: null,
    decision: { kind: 'adapt', reason: `words-${table}`, nextChange: `words-${table}` },
    surprises: `words-${table}`,
    learned: `words-${table}`,
    predictionReview: `words-${table}`,
  }
}

function tableOf(sketch: Sketch, index: number): TableState {
  const rounds = sketch.rounds.flatMap((stage, i) =>
    stage === 'none' ? [] : [round(index, sketch.firstRound + i, stage === 'locked')],
  )
  return {
    id: `T${index}`,
    name: `Table ${index}`,
    place: index + 1,
    projectId: `J${index}`,
    firstRound: sketch.firstRound,
    excused: sketch.excused,
    removed: sketch.removed,
    seats: [0, 1].map((n) => ({
      id: `S${index}-${n}`,
      name: '',
      roles: [],
      confidenceBefore: 7,
      confidenceAfter: null,
    })),
    rounds,
    joinNumber: 512,
    nudge: { text: `words-${index}`, at: '2026-03-02T09:15:00.000Z' },
    lastMoveAt: null,
  }
}

function stateOf(sketches: readonly Sketch[]): RoomState {
  return {
    seq: 1,
    now: '2026-03-02T09:15:00.000Z',
    viewer: { as: 'lead' },
    room: { notes: 'notes of the facilitator' } as RoomState['room'],
    tables: sketches.map(tableOf),
  }
}

const sketch: fc.Arbitrary<Sketch> = fc.record({
  firstRound: fc.integer({ min: 1, max: 3 }),
  removed: fc.boolean(),
  excused: fc.uniqueArray(fc.integer({ min: 1, max: 4 }), { maxLength: 3 }),
  rounds: fc.array(fc.constantFrom('planned', 'locked', 'none'), { maxLength: 4 }),
})
const rooms = fc.array(sketch, { minLength: 1, maxLength: 5 }).map(stateOf)
const viewers = (state: RoomState): Viewer[] => [
  { as: 'screen' },
  ...state.tables.map(
    ({ id, seats }): Viewer => ({
      as: 'table',
      tableId: id,
      seatId: seats[0]!.id,
    }),
  ),
]

/** Written out again, from the rule as it is stated: nobody who takes part is still open. */
function mayBeSeen(state: RoomState, table: number, number: number): boolean {
  if (!hasLocked(state.tables[table]!, number)) return false
  for (const other of state.tables) {
    if (other.removed) continue
    if (other.firstRound > number) continue
    if (other.excused.includes(number)) continue
    if (!hasLocked(other, number)) return false
  }
  return true
}

it('never shows another table’s strategy or prediction before all who take part have locked', () => {
  fc.assert(
    fc.property(rooms, (state) => {
      for (const viewer of viewers(state)) {
        const text = JSON.stringify(visibleTo(state, viewer))
        for (const [, table, number] of text.matchAll(SECRET)) {
          const own = viewer.as === 'table' && viewer.tableId === `T${table}`
          expect(own || mayBeSeen(state, Number(table), Number(number))).toBe(true)
        }
      }
    }),
    { numRuns: 500 },
  )
})

it('shows every prediction once all who take part have locked, and says what is withheld', () => {
  fc.assert(
    fc.property(rooms, (state) => {
      const seen = visibleTo(state, { as: 'screen' })
      for (const [t, table] of seen.tables.entries())
        for (const { number, predictions, withheld } of table.rounds) {
          const open = mayBeSeen(state, t, number)
          expect(withheld).toBe(!open)
          expect(predictions !== null).toBe(open)
        }
    }),
    { numRuns: 300 },
  )
})

it('keeps words, confidence and notes with those they belong to', () => {
  fc.assert(
    fc.property(rooms, (state) => {
      for (const viewer of viewers(state)) {
        const seen = visibleTo(state, viewer)
        expect(seen.room.notes).toBeNull()
        for (const table of seen.tables) {
          const own = viewer.as === 'table' && viewer.tableId === table.id
          const words = JSON.stringify(table).includes('words-')
          if (!own) expect(words).toBe(false)
          const sure = table.seats.filter(({ confidenceBefore }) => confidenceBefore !== null)
          expect(sure.map(({ id }) => id)).toEqual(
            own && viewer.as === 'table' ? [viewer.seatId] : [],
          )
        }
      }
      expect(visibleTo(state, { as: 'lead' })).toEqual(state)
    }),
    { numRuns: 200 },
  )
})

it('does not wait for a table that was removed, came later or was excused', () => {
  const locked = { firstRound: 1, removed: false, excused: [], rounds: ['locked' as const] }
  const open = { ...locked, rounds: ['planned' as const] }
  const shown = (other: Sketch) => shownRounds(stateOf([locked, other]).tables).has(1)
  expect(shown(open)).toBe(false)
  expect(shown({ ...open, rounds: [] })).toBe(false)
  expect(shown(locked)).toBe(true)
  expect(shown({ ...open, removed: true })).toBe(true)
  expect(shown({ ...open, excused: [1] })).toBe(true)
  expect(shown({ ...open, firstRound: 2 })).toBe(true)
})
