/** A room as a screen sees it: one object, kept up to date by the feed. */

import type { DecisionKind, Id, Instant } from '../record.ts'
import type { Look } from './inspecting.ts'
import type { Kit } from './kit.ts'
import type { Expectation } from './moves.ts'
import type { Countdown, Moment, RoomSettings, SeatRole, TimedHow } from './room.ts'

/** `lead`: the facilitator. `table`: a phone, which sees its own table whole. `screen`: public only. */
export type Viewer =
  | { readonly as: 'lead' }
  | { readonly as: 'table'; readonly tableId: Id; readonly seatId: Id }
  | { readonly as: 'screen' }

/** Where a table stands in its round. `done`: the round is decided. */
export const ROUND_STAGES = ['plan', 'ready', 'running', 'inspect', 'debrief', 'done'] as const
export type RoundStage = (typeof ROUND_STAGES)[number]

export interface ReadingState {
  readonly id: Id
  readonly seatId: Id | null
  readonly by: string
  readonly seconds: number
  readonly how: TimedHow
  readonly note: string
  readonly kept: boolean | null
}

export interface InspectionState extends Look {
  readonly id: Id
  readonly seatId: Id | null
  readonly by: string
}

export interface TrialState {
  readonly id: Id
  readonly number: number
  readonly startedAt: Instant
  readonly startedBySeatId: Id | null
  readonly voidReason: string | null
  readonly readings: readonly ReadingState[]
  /** Mean of the readings, or the one that was kept; `null`: still running, or not settled. */
  readonly seconds: number | null
  /** Timers differ by more than the room allows and nobody has said which to keep. */
  readonly unsettled: boolean
  readonly inspections: readonly InspectionState[]
  /** An item is right where every inspector who looked at it says so. `null`: not inspected. */
  readonly right: number | null
  readonly inspected: number | null
}

export interface RoundPredictions {
  readonly time: Expectation | null
  readonly quality: Expectation | null
  readonly confidence: number
  readonly why: string
}

export interface RoundState {
  /** In the room, from 1. */
  readonly number: number
  readonly cycleId: Id
  readonly stage: RoundStage
  readonly lockedAt: Instant | null
  /** `null`: this viewer may not see it yet. */
  readonly strategy: string | null
  /** `null`: not made yet, or this viewer may not see them yet (`withheld`). */
  readonly predictions: RoundPredictions | null
  readonly withheld: boolean
  readonly trials: readonly TrialState[]
  /** Of the trial that counts: the last one that is not void. */
  readonly seconds: number | null
  readonly right: number | null
  readonly inspected: number | null
  readonly score: number | null
  readonly decision: {
    readonly kind: DecisionKind
    /** `null` for other tables and the room screen, like the texts below. */
    readonly reason: string | null
    readonly nextChange: string | null
  } | null
  readonly surprises: string | null
  readonly learned: string | null
  readonly predictionReview: string | null
}

export interface SeatState {
  readonly id: Id
  readonly name: string
  readonly roles: readonly SeatRole[]
  /** Own seat and facilitator only; `null` otherwise. */
  readonly confidenceBefore: number | null
  readonly confidenceAfter: number | null
}

export interface TableState {
  readonly id: Id
  readonly name: string
  readonly place: number
  readonly projectId: Id
  readonly firstRound: number
  readonly excused: readonly number[]
  readonly removed: boolean
  readonly seats: readonly SeatState[]
  /** Rounds it has begun, in order. */
  readonly rounds: readonly RoundState[]
  /** Own table and facilitator only. */
  readonly nudge: { readonly text: string; readonly at: Instant } | null
  /** What a further phone must know to join. Own table and facilitator only; `null` otherwise. */
  readonly joinNumber: number | null
  /** When it last did anything. */
  readonly lastMoveAt: Instant | null
}

export interface RoomView {
  readonly id: Id
  readonly code: string
  readonly name: string
  readonly unitId: Id
  readonly kit: Kit
  readonly settings: RoomSettings
  readonly moment: Moment
  readonly round: number
  readonly countdown: Countdown | null
  readonly talkingPoint: number
  /** Facilitator only. */
  readonly notes: string | null
  readonly openedAt: Instant
  readonly closedAt: Instant | null
}

/** Everything a viewer may see. */
export interface RoomState {
  /** Sequence number of the last journal row in it. */
  readonly seq: number
  /** The server's clock when this was sent; countdowns are reckoned from it. */
  readonly now: Instant
  readonly viewer: Viewer
  readonly room: RoomView
  readonly tables: readonly TableState[]
}

/**
 * One event of the feed: the parts that changed, each whole. Its SSE id is `seq`; the event type is
 * `state` for a whole `RoomState` (on connecting) and `change` for this.
 */
export interface RoomChange {
  readonly seq: number
  readonly now: Instant
  readonly room?: RoomView
  readonly tables: readonly TableState[]
}

/** The state after a change: parts are replaced whole; one that is older than the state is ignored. */
export function withChange(state: RoomState, change: RoomChange): RoomState {
  if (change.seq <= state.seq) return state
  const known = new Set(state.tables.map(({ id }) => id))
  const tables = [
    ...state.tables.map((table) => change.tables.find(({ id }) => id === table.id) ?? table),
    ...change.tables.filter(({ id }) => !known.has(id)),
  ].sort((a, b) => a.place - b.place)
  return { ...state, seq: change.seq, now: change.now, room: change.room ?? state.room, tables }
}
