import type { Person } from '../../domain/record.ts'
import type { RoomSeat } from '../../domain/workshop/room.ts'
import type { Viewer } from '../../domain/workshop/room-state.ts'
import { AppError } from '../../errors.ts'
import type { Database } from '../../storage/database.ts'
import { notFound } from '../../storage/record.ts'
import { findRoom, seatsOfBrowser } from '../../storage/rooms.ts'
import { tokenHash } from '../browser-token.ts'
import type { Mover } from './move-context.ts'

/** Who somebody is in a room. */
export interface RoomAsker {
  readonly viewer: Viewer
  readonly mover: Mover
}

const coaches = (me: Person | null) => me !== null && (me.role === 'coach' || me.role === 'owner')

/**
 * Who a browser is in a room: its facilitator where a coach is signed in, else the seat it took.
 *
 * @param as What it wants to be, where it can be several: `lead`, `table` or `screen`.
 * @throws AppError `record.not_found`, `room.no_seat`, `room.removed`.
 */
export async function askerOf(
  db: Database,
  roomId: string,
  me: Person | null,
  token: string | null,
  as: unknown,
): Promise<RoomAsker> {
  if (coaches(me) && as !== 'table' && as !== 'screen') {
    if ((await findRoom(db.read, roomId)) === undefined) throw notFound('room', roomId)
    return { viewer: { as: 'lead' }, mover: { seat: null, lead: { id: me!.id, name: me!.name } } }
  }
  const seats = token === null ? [] : await seatsOfBrowser(db.read, roomId, tokenHash(token))
  const fits = seats.filter(({ tableId }) =>
    as === 'table' ? tableId !== null : as === 'screen' ? tableId === null : true,
  )
  const seat = fits.find(({ removedAt }) => removedAt === null)
  if (seat !== undefined && as !== 'lead')
    return { viewer: viewerOf(seat), mover: { seat, lead: null } }
  if (fits.length > 0 && as !== 'lead') throw removedSeat()
  // Whether there is such a workshop is not said to those who are not in it.
  throw new AppError(
    'room.no_seat',
    'This browser has no seat in this workshop.',
    'Join with the code on the room screen.',
    { roomId },
  )
}

export const removedSeat = () =>
  new AppError(
    'room.removed',
    'The facilitator has taken this phone out of the workshop.',
    'Ask the facilitator to let it in again.',
  )

export function viewerOf({ id, tableId }: RoomSeat): Viewer {
  return tableId === null ? { as: 'screen' } : { as: 'table', tableId, seatId: id }
}
