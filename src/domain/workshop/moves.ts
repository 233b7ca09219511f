/**
 * Moves: everything that a phone, a console or a keying page does to a room. They are made on the
 * device, kept there until the server has them, and may be sent twice: the id makes the second one
 * do nothing.
 */

import type { DecisionKind, Id } from '../record.ts'
import type { Moment, Pace, SeatRole, TimedHow } from './room.ts'

/** In the measure's unit: seconds, or share right 0–1. low <= expected <= high. */
export interface Expectation {
  readonly expected: number
  readonly low: number
  readonly high: number
}

/** What a table intends in a round; blank and `null` while it is still writing. */
export interface RoundPlan {
  readonly strategy: string
  readonly time: Expectation | null
  readonly quality: Expectation | null
  /** 0–1; default 0.8. */
  readonly confidence: number
  readonly why: string
}

/** By a phone of the table, or by the facilitator for it. Rounds count from 1 in the room. */
export type TableMove =
  /** Saves the plan so far; the phones of the table share it. */
  | ({ readonly kind: 'plan'; readonly round: number } & RoundPlan)
  | ({ readonly kind: 'lock'; readonly round: number } & RoundPlan)
  /** The clock runs. */
  | { readonly kind: 'start'; readonly round: number; readonly trialId: Id }
  /** Also makes the trial where `start` never arrived; a second phone's stop is a second reading. */
  | {
      readonly kind: 'stop'
      readonly round: number
      readonly trialId: Id
      readonly readingId: Id
      readonly seconds: number
      readonly how: TimedHow
      readonly note: string
    }
  /** Which of two timers to keep where they disagree, and why. */
  | { readonly kind: 'keep'; readonly trialId: Id; readonly readingId: Id; readonly why: string }
  | { readonly kind: 'void'; readonly trialId: Id; readonly reason: string }
  | { readonly kind: 'unvoid'; readonly trialId: Id }
  | {
      readonly kind: 'inspect'
      readonly trialId: Id
      readonly inspectionId: Id
      readonly marks: readonly (0 | 1 | null)[]
    }
  /** Do and Study in a table's words, and what it does next. */
  | {
      readonly kind: 'decide'
      readonly round: number
      readonly surprises: string
      readonly learned: string
      readonly predictionReview: string
      readonly decision: DecisionKind
      readonly reason: string
      readonly nextChange: string
    }

/** By a phone, about itself. */
type SeatMove =
  | { readonly kind: 'seat'; readonly name: string; readonly roles: readonly SeatRole[] }
  | { readonly kind: 'confidence'; readonly when: 'before' | 'after'; readonly value: number }

/** By the facilitator. */
type LeadMove =
  | { readonly kind: 'moment'; readonly moment: Moment }
  | { readonly kind: 'round'; readonly round: number }
  | { readonly kind: 'pace'; readonly pace: Pace }
  /** `seconds` 0 takes it away. */
  | { readonly kind: 'countdown'; readonly of: 'start' | 'plan'; readonly seconds: number }
  | { readonly kind: 'extend'; readonly seconds: number }
  /** `tableId` `null`: all tables. A blank text takes it back. */
  | { readonly kind: 'nudge'; readonly toTableId: Id | null; readonly text: string }
  | { readonly kind: 'talking-point'; readonly index: number }
  | { readonly kind: 'notes'; readonly text: string }
  | {
      readonly kind: 'add-table'
      readonly newTableId: Id
      readonly name: string
      /** Round it began in; by default the one that the class is in. A paper sheet has them all. */
      readonly firstRound?: number | undefined
    }
  | { readonly kind: 'rename-table'; readonly ofTableId: Id; readonly name: string }
  | { readonly kind: 'remove-table'; readonly ofTableId: Id }
  | { readonly kind: 'restore-table'; readonly ofTableId: Id }
  | { readonly kind: 'remove-seat'; readonly seatId: Id }
  | { readonly kind: 'restore-seat'; readonly seatId: Id }
  /** From a paper sheet that says how many items were right, not which. */
  | {
      readonly kind: 'count-right'
      readonly trialId: Id
      readonly inspectionId: Id
      readonly right: number
    }
  /** The class goes on without this table in this round: its lock is not waited for. */
  | { readonly kind: 'excuse'; readonly ofTableId: Id; readonly round: number }
  | { readonly kind: 'unexcuse'; readonly ofTableId: Id; readonly round: number }
  | { readonly kind: 'close' }
  | { readonly kind: 'reopen' }

export type MoveBody = TableMove | SeatMove | LeadMove
export type MoveKind = MoveBody['kind']

/** A move as it is sent. */
export type Move = MoveBody & {
  readonly id: Id
  /** Milliseconds since it was made, by the device's own clock when sending; never negative. */
  readonly ageMs: number
  /** Only from the facilitator, for a table's move. */
  readonly tableId?: Id | undefined
  /** Somebody has looked at what seemed to identify a patient. */
  readonly textChecked?: boolean | undefined
}

export interface MoveResult {
  readonly id: Id
  /** `already`: the server has it. `refused`: it never will take it as it is; the rest says why. */
  readonly outcome: 'done' | 'already' | 'refused'
  readonly code: string | null
  readonly message: string | null
  readonly hint: string | null
}
