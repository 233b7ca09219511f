import type { Id } from '../domain/record.ts'
import type { SeatRole } from '../domain/workshop/room.ts'
import { keep, readKept, type Shelf } from './kept.ts'

/** The place this phone has taken, as it remembers it. */
export interface Seat {
  readonly roomId: Id
  readonly code: string
  readonly seatId: Id
  readonly tableId: Id
  readonly tableName: string
  readonly name: string
  readonly roles: readonly SeatRole[]
}

const SEATS = 'pawl.t.seat.'
/** Everything else of a room is kept under this. */
export const roomShelf = (roomId: Id) => `pawl.t.${roomId}.`

export const readSeat = (shelf: Shelf, code: string) => readKept<Seat>(shelf, SEATS + code)

export function keepSeat(shelf: Shelf, seat: Seat): void {
  keep(shelf, SEATS + seat.code, seat)
  keep(shelf, 'pawl.t.last', seat.code)
}
export const forgetSeat = (shelf: Shelf, code: string) => shelf.removeItem(SEATS + code)

/** The seat taken last, for a phone that opens the page without a code. */
export function lastSeat(shelf: Shelf): Seat | null {
  const code = readKept<string>(shelf, 'pawl.t.last')
  return code === null ? null : readSeat(shelf, code)
}
