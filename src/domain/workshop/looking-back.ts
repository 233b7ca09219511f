import type { RoomState } from './room-state.ts'

/**
 * A closed room for somebody who was not its facilitator: the whole record, but for the
 * facilitator's notes and nudges, and what single people said of their confidence.
 *
 * @param state The whole room, as the facilitator sees it.
 */
export function lookingBack(state: RoomState): RoomState {
  return {
    ...state,
    viewer: { as: 'screen' },
    room: { ...state.room, notes: null },
    tables: state.tables.map((table) => ({
      ...table,
      nudge: null,
      joinNumber: null,
      seats: table.seats.map((seat) => ({
        ...seat,
        confidenceBefore: null,
        confidenceAfter: null,
      })),
    })),
  }
}
