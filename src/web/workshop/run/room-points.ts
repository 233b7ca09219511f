import type { RoomPoint } from '../../../charts/room-frame.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'

/** Rounds as the pictures of a class take them. */
export const roomPoints = (rows: readonly RoundRow[]): RoomPoint[] =>
  rows.map((row) => ({
    table: row.table,
    round: row.round,
    turn: row.turn,
    seconds: row.seconds !== null && row.seconds > 0 ? row.seconds : null,
    right: row.right,
    inspected: row.inspected,
    predicted: row.predictions?.time ?? null,
  }))
