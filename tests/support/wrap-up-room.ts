import type { DecisionKind } from '../../src/domain/record.ts'
import type { Expectation } from '../../src/domain/workshop/moves.ts'
import type { RoomSettings } from '../../src/domain/workshop/room.ts'
import type {
  InspectionState,
  ReadingState,
  RoomState,
  RoundState,
  SeatState,
} from '../../src/domain/workshop/room-state.ts'
import {
  SAMPLE_SETTINGS,
  sampleRoom,
  sampleRound,
  sampleTable,
  sampleTrial,
} from './sample-room.ts'

/** A round as a test of the wrap-up says it; what is left out is `null` or as in the sample. */
export interface ToldRound {
  readonly seconds: number | null
  readonly right?: number | null
  readonly inspected?: number
  readonly time?: Expectation | null
  readonly quality?: Expectation | null
  readonly decision?: DecisionKind | null
  /** Seconds of a first and a second timer. */
  readonly timers?: readonly (readonly [number, number])[]
  /** Marks of a first and a second inspector. */
  readonly inspectors?: readonly [readonly (0 | 1 | null)[], readonly (0 | 1 | null)[]]
  /** Items right of a sheet that says no more. */
  readonly countOnly?: number
  readonly voidReason?: string | null
}

const reading = (id: string, seatId: string, seconds: number): ReadingState => ({
  id,
  seatId,
  by: seatId,
  seconds,
  how: 'steady-clock',
  note: '',
  kept: null,
})
const inspection = (
  id: string,
  marks: InspectionState['marks'],
  rightCount: number | null = null,
): InspectionState => ({ id, seatId: null, by: '', marks, rightCount })

/** Marks with as many 1 and 0 as said. */
export const marks = (ones: number, zeros: number): (0 | 1)[] => [
  ...Array<1>(ones).fill(1),
  ...Array<0>(zeros).fill(0),
]

function toldRound(place: number, number: number, told: ToldRound): RoundState {
  const base = sampleRound(place, number, {
    seconds: told.seconds ?? 0,
    right: 12,
    low: 1,
    high: 2,
  })
  const right = told.right ?? null
  const times = told.timers ?? [null]
  const trials = times.map((pair, i) => ({
    ...sampleTrial(`${base.cycleId}-${i}`, told.seconds, right),
    startedBySeatId: 'starter',
    voidReason: told.voidReason ?? null,
    // The second phone's reading came first: the order says nothing.
    ...(pair === null
      ? {}
      : { readings: [reading('b', 'other', pair[1]), reading('a', 'starter', pair[0])] }),
    inspections: [
      ...(told.inspectors?.map((own, k) => inspection(`i${k}`, own)) ?? []),
      ...(told.countOnly === undefined
        ? []
        : [inspection('c', Array<null>(12).fill(null), told.countOnly)]),
    ],
  }))
  const { time = null, quality = null, decision = 'adapt' } = told
  return {
    ...base,
    trials: told.seconds === null && told.inspectors === undefined ? [] : trials,
    seconds: told.seconds,
    right,
    inspected: right === null ? null : (told.inspected ?? 12),
    predictions: { time, quality, confidence: 0.8, why: '' },
    decision: decision === null ? null : { kind: decision, reason: '', nextChange: '' },
  }
}

/** A room of these tables. */
export function toldRoom(
  tables: Readonly<Record<string, readonly ToldRound[]>>,
  settings: Partial<RoomSettings> = {},
): RoomState {
  const state = sampleRoom({ settings: { ...SAMPLE_SETTINGS, ...settings } })
  return {
    ...state,
    tables: Object.entries(tables).map(([name, rounds], t) =>
      sampleTable(
        t + 1,
        rounds.map((told, r) => toldRound(t + 1, r + 1, told)),
        name,
      ),
    ),
  }
}

/** Seats with these answers before and after. */
export const seatsWith = (
  answers: readonly (readonly [number | null, number | null])[],
): SeatState[] =>
  answers.map(([confidenceBefore, confidenceAfter], i) => ({
    id: `seat${i}`,
    name: '',
    roles: [],
    confidenceBefore,
    confidenceAfter,
  }))
