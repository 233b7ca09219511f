/** The live workshop as rows: a room, its tables, its seats, and how each trial was timed and inspected. */

import type { Id, Instant } from '../record.ts'

/** What the class does now; the room screen has a page for each. */
export const MOMENTS = ['join', 'predict', 'running', 'compare', 'debrief', 'wrap-up'] as const
export type Moment = (typeof MOMENTS)[number]

/** `together`: the facilitator starts each round for all; `alone`: each table starts its own. */
export const PACES = ['together', 'alone'] as const
export type Pace = (typeof PACES)[number]

/** What a phone does at its table; one phone may do all. */
export const SEAT_ROLES = ['builder', 'timer', 'recorder', 'inspector'] as const
export type SeatRole = (typeof SEAT_ROLES)[number]

export interface RoomSettings {
  /** 1–8; default 4. */
  readonly rounds: number
  readonly pace: Pace
  /** Whether tables predict a range, or one number. */
  readonly predicts: 'range' | 'single'
  /** Seconds a table has for planning a round; `null`: no box. */
  readonly planSeconds: number | null
  /** Seconds after which a trial has run long enough; the clock turns loud, nothing is stopped. */
  readonly trialSeconds: number | null
  /** Two timers further apart than this are asked which to keep, seconds. Default 2. */
  readonly timersAgreeWithin: number
  /** Which of the kit's strategy prompts show, by index. */
  readonly prompts: readonly number[]
  readonly rotateRoles: boolean
  /** Whether seats are asked before and after how confident they are. */
  readonly asksConfidence: boolean
  /** One person alone tries it out. */
  readonly tryOut: boolean
}

export interface Countdown {
  /** `start`: phones start their clocks at zero. `plan`: time left to plan and predict. */
  readonly kind: 'start' | 'plan'
  readonly startedAt: Instant
  readonly endsAt: Instant
}

/** JSON columns are text in the row, parsed in the state. */
export interface Room {
  readonly id: Id
  /** Six characters that do not look alike. */
  readonly code: string
  readonly name: string
  readonly unitId: Id
  readonly facilitatorId: Id
  /** JSON of `Kit`: as it was when the room was opened. */
  readonly kit: string
  /** JSON of `RoomSettings`. */
  readonly settings: string
  readonly moment: Moment
  /** Round the class is in; 0 before the first. */
  readonly round: number
  /** JSON of `Countdown`, or `null`. */
  readonly countdown: string | null
  /** Index of the talking point on the console. */
  readonly talkingPoint: number
  /** The facilitator's own. */
  readonly notes: string
  readonly openedAt: Instant
  readonly closedAt: Instant | null
  readonly version: number
}

/** A table of the class. Its rounds are the tests of change of its project, one chain. */
export interface RoomTable {
  /** Also the id of the person row that stands for the table in its records. */
  readonly id: Id
  readonly roomId: Id
  readonly projectId: Id
  readonly timeMeasureId: Id
  readonly qualityMeasureId: Id
  readonly name: string
  /** 1, 2, 3 … in order of joining. */
  readonly place: number
  /** Round in which it began; a late table does not hold up the rounds before. */
  readonly firstRound: number
  /** JSON list of rounds that the class went on without it. */
  readonly excused: string
  readonly nudge: string
  readonly nudgedAt: Instant | null
  readonly removedAt: Instant | null
  /**
   * Three digits that a further phone of the table must know; `null`: the table is from before
   * there were such numbers.
   */
  readonly joinNumber: number | null
  readonly version: number
}

/** A phone at a table, or a room screen. Known by the SHA-256 of its cookie. */
export interface RoomSeat {
  readonly id: Id
  readonly roomId: Id
  /** `null`: a room screen. */
  readonly tableId: Id | null
  /** A first name or a role at most; may be blank. */
  readonly name: string
  /** JSON list of `SeatRole`. */
  readonly roles: string
  readonly tokenHash: string
  /** 0–10, asked before the first round and after the last. */
  readonly confidenceBefore: number | null
  readonly confidenceAfter: number | null
  readonly joinedAt: Instant
  readonly removedAt: Instant | null
  readonly version: number
}

/**
 * How a time was taken. `steady-clock`: the device's monotonic clock all the way. `device-clock`:
 * its clock of day, after a reload or sleep had stopped the steady one. `server-clock`: both clocks
 * of the device disagreed and the server's settled it. `typed`: read off something else and entered.
 * `paper`: from a paper worksheet.
 */
export const TIMED_HOW = ['steady-clock', 'device-clock', 'server-clock', 'typed', 'paper'] as const
export type TimedHow = (typeof TIMED_HOW)[number]

/** One timer's time of one trial. */
export interface Reading {
  readonly id: Id
  readonly trialId: Id
  readonly seatId: Id | null
  /** Name of the seat at that moment. */
  readonly by: string
  readonly seconds: number
  readonly how: TimedHow
  /** What stood in its way, such as "asleep for 40 s"; blank where nothing did. */
  readonly note: string
  /** Where timers disagreed: 1 for the one the table kept, 0 for the other; `null`: not asked. */
  readonly kept: number | null
  readonly version: number
}

/** One inspector's look at one trial. */
export interface Inspection {
  readonly id: Id
  readonly trialId: Id
  readonly seatId: Id | null
  readonly by: string
  /** JSON list, one entry an item of the checklist: 1 right, 0 not right, `null` not inspected. */
  readonly marks: string
  /** Items right where only their count is known, as from a paper sheet; `null`: the marks say it. */
  readonly rightCount: number | null
  readonly at: Instant
  readonly version: number
}

/** A move that was accepted, so that sending it again does nothing. */
export interface RoomMove {
  readonly id: Id
  readonly roomId: Id
  readonly tableId: Id | null
  readonly seatId: Id | null
  readonly kind: string
  /** When it was made: the server's time of receipt less the move's age on the device. */
  readonly at: Instant
  readonly receivedAt: Instant
  /**
   * Where a phone began a trial that was another phone's already: what it calls the trial, and which
   * one that is.
   */
  readonly calledTrialId: Id | null
  readonly trialId: Id | null
}

/** A kit that a facilitator wrote or copied. */
export interface OwnKit {
  readonly id: Id
  /** JSON of `Kit`. */
  readonly kit: string
  readonly createdById: Id
  readonly version: number
}
