import type { Id } from '../record.ts'
import type { RoomState, RoomView, RoundState, TableState, Viewer } from './room-state.ts'

/**
 * Rounds whose predictions everybody may see: every table that takes part in them has locked.
 *
 * A table takes part unless it was removed, began in a later round, or the class went on without it.
 *
 * @param tables Every table of the room, whole.
 */
export function shownRounds(tables: readonly TableState[]): ReadonlySet<number> {
  const numbers = new Set(tables.flatMap(({ rounds }) => rounds.map(({ number }) => number)))
  return new Set([...numbers].filter((number) => isShown(tables, number)))
}

/** Whether the predictions of one round may be seen by everybody. */
export function isShown(tables: readonly TableState[], round: number): boolean {
  return tables.every(
    (table) =>
      table.removed ||
      table.firstRound > round ||
      table.excused.includes(round) ||
      hasLocked(table, round),
  )
}

export function hasLocked({ rounds }: TableState, round: number): boolean {
  return rounds.some(({ number, lockedAt }) => number === round && lockedAt !== null)
}

/** A table as other tables and the room screen may see it. */
export function publicTable(table: TableState, shown: ReadonlySet<number>): TableState {
  return {
    ...table,
    nudge: null,
    joinNumber: null,
    seats: table.seats.map((seat) => ({ ...seat, confidenceBefore: null, confidenceAfter: null })),
    rounds: table.rounds.map((round) => publicRound(round, shown)),
  }
}

function publicRound(round: RoundState, shown: ReadonlySet<number>): RoundState {
  const open = round.lockedAt !== null && shown.has(round.number)
  return {
    ...round,
    strategy: open ? round.strategy : null,
    predictions: open ? round.predictions : null,
    withheld: !open,
    decision:
      round.decision === null
        ? null
        : { kind: round.decision.kind, reason: null, nextChange: null },
    surprises: null,
    learned: null,
    predictionReview: null,
  }
}

/** A table as one of its own phones sees it: whole, but for what the others there feel sure of. */
function ownTable(table: TableState, seatId: Id): TableState {
  return { ...table, seats: ownSeats(table, seatId) }
}

export function ownSeats({ seats }: TableState, seatId: Id): TableState['seats'] {
  return seats.map((seat) =>
    seat.id === seatId ? seat : { ...seat, confidenceBefore: null, confidenceAfter: null },
  )
}

/** A room as everybody but its facilitator sees it. */
export function publicRoom(room: RoomView): RoomView {
  return { ...room, notes: null }
}

/**
 * What one viewer may see of a room.
 *
 * The facilitator sees all. A phone sees its own table whole. Of other tables, and on the room
 * screen, predictions and strategy of a round stay hidden until every table that takes part in it
 * has locked; words about what was learned stay with the table.
 *
 * @param state The whole room, as the facilitator sees it.
 */
export function visibleTo(state: RoomState, viewer: Viewer): RoomState {
  if (viewer.as === 'lead') return { ...state, viewer }
  const shown = shownRounds(state.tables)
  return {
    ...state,
    viewer,
    room: publicRoom(state.room),
    tables: state.tables.map((table) =>
      viewer.as === 'table' && viewer.tableId === table.id
        ? ownTable(table, viewer.seatId)
        : publicTable(table, shown),
    ),
  }
}
