import type { Kit } from '../../src/domain/workshop/kit.ts'
import type { Expectation } from '../../src/domain/workshop/moves.ts'
import type { RoomSettings } from '../../src/domain/workshop/room.ts'
import type {
  RoomState,
  RoomView,
  RoundState,
  TableState,
  TrialState,
  Viewer,
} from '../../src/domain/workshop/room-state.ts'

/** A readable id: a letter for the kind, a number for which. */
const sampleId = (kind: string, n: number) =>
  `01J000000000000000000${kind}${String(n).padStart(4, '0')}`

/** When the sample class is at its third comparison. */
export const ROOM_NOW = '2026-03-02T10:00:00.000Z'

/** An instant so many seconds before `ROOM_NOW`. */
export const secondsBefore = (seconds: number): string =>
  new Date(Date.parse(ROOM_NOW) - seconds * 1000).toISOString()

export const SAMPLE_SETTINGS: RoomSettings = {
  rounds: 4,
  pace: 'together',
  predicts: 'range',
  planSeconds: 240,
  trialSeconds: 180,
  timersAgreeWithin: 2,
  prompts: [0, 1],
  rotateRoles: true,
  asksConfidence: true,
  tryOut: false,
}

/** A kit for tests only, of twelve items. */
export const SAMPLE_KIT: Kit = {
  name: 'Tray from a card',
  summary: 'Lay twelve things on a tray as the card shows.',
  bring: ['A tray', 'Twelve small things', 'The card'],
  task: ['Lay every thing in its place on the tray.'],
  clockStarts: 'The builder lifts the first thing.',
  clockStops: 'The builder says done, both hands off the tray.',
  card: {
    columns: 4,
    rows: 3,
    places: [{ label: 'Cup', column: 0, row: 0, columns: 1, rows: 1, shape: 'round' }],
    note: 'Handles point to the builder.',
  },
  checklist: Array.from({ length: 12 }, (_, i) => `Thing ${i + 1} is in its place`),
  score: [
    { atLeast: 1, score: 3, label: 'Every item right' },
    { atLeast: 0.8, score: 2, label: 'Nearly all right' },
    { atLeast: 0, score: 1, label: 'Not yet' },
  ],
  prompts: ['Who hands over what?', 'What could lie ready before the clock starts?'],
  hints: ['Some tables move the card itself. Let them.'],
  variations: ['One hand only.'],
}

interface SampleRound {
  readonly seconds: number
  readonly right: number
  /** Predicted time. */
  readonly low: number
  readonly high: number
}

/** What each table predicted and did, round by round. */
const TABLES: readonly { readonly name: string; readonly rounds: readonly SampleRound[] }[] = [
  {
    name: 'Kestrel',
    rounds: [
      { seconds: 96, right: 11, low: 60, high: 90 },
      { seconds: 71, right: 12, low: 70, high: 90 },
      { seconds: 44, right: 12, low: 38, high: 55 },
    ],
  },
  {
    name: 'Heron',
    rounds: [
      { seconds: 110, right: 12, low: 60, high: 80 },
      { seconds: 83, right: 12, low: 80, high: 100 },
      { seconds: 62, right: 12, low: 50, high: 60 },
    ],
  },
  {
    name: 'Wren',
    rounds: [
      { seconds: 88, right: 10, low: 45, high: 70 },
      { seconds: 70, right: 11, low: 60, high: 80 },
      { seconds: 58, right: 12, low: 45, high: 55 },
    ],
  },
  {
    name: 'Plover',
    rounds: [
      { seconds: 120, right: 12, low: 80, high: 110 },
      { seconds: 77, right: 12, low: 80, high: 110 },
      { seconds: 51, right: 11, low: 45, high: 60 },
    ],
  },
  {
    name: 'Finch',
    rounds: [
      { seconds: 101, right: 9, low: 40, high: 60 },
      { seconds: 90, right: 12, low: 70, high: 95 },
      { seconds: 66, right: 12, low: 50, high: 60 },
    ],
  },
  {
    name: 'Swift',
    rounds: [
      { seconds: 92, right: 12, low: 60, high: 100 },
      { seconds: 61, right: 12, low: 60, high: 80 },
      { seconds: 39, right: 9, low: 35, high: 50 },
    ],
  },
]

const middle = (low: number, high: number): Expectation => ({
  low,
  expected: (low + high) / 2,
  high,
})

export function sampleTrial(id: string, seconds: number | null, right: number | null): TrialState {
  return {
    id,
    number: 1,
    startedAt: secondsBefore(600),
    startedBySeatId: null,
    voidReason: null,
    readings:
      seconds === null
        ? []
        : [
            {
              id: `${id.slice(0, -1)}R`,
              seatId: null,
              by: 'Timer',
              seconds,
              how: 'steady-clock',
              note: '',
              kept: null,
            },
          ],
    seconds,
    unsettled: false,
    inspections: [],
    right,
    inspected: right === null ? null : 12,
  }
}

/** A round that is decided, of the table at this place. */
export function sampleRound(place: number, number: number, round: SampleRound): RoundState {
  const trial = sampleTrial(sampleId('R', place * 10 + number), round.seconds, round.right)
  return {
    number,
    cycleId: sampleId('C', place * 10 + number),
    stage: 'done',
    lockedAt: secondsBefore(700),
    strategy: `Strategy ${number} of this table.`,
    predictions: {
      time: middle(round.low, round.high),
      quality: { low: 10 / 12, expected: 1, high: 1 },
      confidence: 0.8,
      why: 'Everything lies closer.',
    },
    withheld: false,
    trials: [trial],
    seconds: round.seconds,
    right: round.right,
    inspected: 12,
    score: round.right === 12 ? 3 : round.right >= 10 ? 2 : 1,
    decision: { kind: 'adapt', reason: 'It was quicker.', nextChange: 'Hand over in order.' },
    surprises: null,
    learned: null,
    predictionReview: null,
  }
}

/** A round that is still being planned: nothing is locked, nothing has run. */
export const openRound = (place: number, number: number): RoundState => ({
  ...sampleRound(place, number, { seconds: 0, right: 0, low: 0, high: 0 }),
  stage: 'plan',
  lockedAt: null,
  strategy: null,
  predictions: null,
  trials: [],
  seconds: null,
  right: null,
  inspected: null,
  score: null,
  decision: null,
})

export function sampleTable(
  place: number,
  rounds: readonly RoundState[],
  name: string,
): TableState {
  return {
    id: sampleId('A', place),
    name,
    place,
    projectId: sampleId('J', place),
    firstRound: 1,
    excused: [],
    removed: false,
    seats: [
      {
        id: sampleId('S', place),
        name: 'Timer',
        roles: ['timer'],
        confidenceBefore: null,
        confidenceAfter: null,
      },
    ],
    rounds,
    nudge: null,
    joinNumber: 412 + place,
    lastMoveAt: secondsBefore(20 * place),
  }
}

/**
 * Six tables of an invented class after their third round.
 *
 * @param room   What differs in the room.
 * @param viewer Who looks; the fixture holds back nothing.
 * @param rounds Rounds that the tables have done, 0 to 3.
 */
export function sampleRoom(
  room: Partial<RoomView> = {},
  viewer: Viewer = { as: 'lead' },
  rounds = 3,
): RoomState {
  return {
    seq: 40,
    now: ROOM_NOW,
    viewer,
    room: {
      id: sampleId('W', 1),
      code: 'K7QX3M',
      name: 'Invented class, Monday',
      unitId: sampleId('T', 1),
      kit: SAMPLE_KIT,
      settings: SAMPLE_SETTINGS,
      moment: 'compare',
      round: rounds,
      countdown: null,
      talkingPoint: 0,
      notes: '',
      openedAt: secondsBefore(1800),
      closedAt: null,
      ...room,
    },
    tables: TABLES.map((table, i) =>
      sampleTable(
        i + 1,
        table.rounds.slice(0, rounds).map((round, r) => sampleRound(i + 1, r + 1, round)),
        table.name,
      ),
    ),
  }
}

/** The same state with one table changed. */
export function withTable(
  state: RoomState,
  place: number,
  change: (table: TableState) => TableState,
): RoomState {
  return { ...state, tables: state.tables.map((t) => (t.place === place ? change(t) : t)) }
}
