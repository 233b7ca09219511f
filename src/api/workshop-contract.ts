/** What the routes of workshops and kits take and answer. Types only. */

import type { Judged } from '../domain/judged-predictions.ts'
import type { Id, Instant } from '../domain/record.ts'
import type { Kit } from '../domain/workshop/kit.ts'
import type { RoomSettings } from '../domain/workshop/room.ts'
import type { ErrorReply } from './contract.ts'

/** How predictions of a workshop, or of one of its tables, came out; all of it is exercise. */
export interface RoomCalibrationReply extends Judged {
  readonly name: string
  /** Single numbers were predicted, not ranges, so nothing can be said of coverage. */
  readonly pointsOnly: boolean
}

/** A kit that somebody here wrote or copied. */
export interface KitReply {
  readonly id: Id
  readonly kit: Kit
  readonly version: number
}

/** A workshop as lists show it. */
export interface RoomBrief {
  readonly id: Id
  readonly code: string
  readonly name: string
  readonly unitId: Id
  readonly unitName: string
  readonly facilitatorName: string
  readonly kitName: string
  readonly tryOut: boolean
  readonly openedAt: Instant
  readonly closedAt: Instant | null
  readonly tables: number
  readonly roundsDone: number
}

export interface NewRoom {
  readonly id: Id
  readonly name: string
  readonly unitId: Id
  readonly kit: Kit
  readonly settings: RoomSettings
}

/** What a phone learns from a code before it joins. */
export interface FoundRoom {
  readonly roomId: Id
  readonly name: string
  readonly kitName: string
  readonly tables: readonly {
    readonly id: Id
    readonly name: string
    readonly seats: number
    /** It is in use, and not by this browser: `tableNumber` is asked for. */
    readonly needsNumber: boolean
  }[]
}

/** The same as it stands in the page that a phone opens with a code, so that it need not ask. */
export type GivenRoom = { readonly found: FoundRoom } | { readonly refused: ErrorReply }

export interface JoinRequest {
  readonly code: string
  readonly seatId: Id
  /** `screen`: the room screen, which sees what everybody may see. */
  readonly as: 'table' | 'screen'
  /** A table that is there, or `null` with the name of a new one. */
  readonly tableId: Id | null
  readonly tableName: string
  /** Of a table that is in use, where this browser has no seat at it: 403 `room.table_number`. */
  readonly tableNumber?: string
  /** First name or role; may be blank. */
  readonly name: string
}
