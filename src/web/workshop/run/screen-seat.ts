import type { Id } from '../../../domain/record.ts'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { call } from '../../lib/api.ts'
import { newId } from '../../lib/ids.ts'
import { receiveSession, session } from '../../lib/session.ts'

const keyOf = (code: string) => `pawl.screen.${code}`

interface KeptSeat {
  readonly seatId: Id
  /** `null` until it has joined. */
  readonly roomId: Id | null
}

function kept(code: string): KeptSeat {
  try {
    const text = localStorage.getItem(keyOf(code))
    if (text !== null) return JSON.parse(text) as KeptSeat
  } catch {
    // Without storage the screen takes a new seat at every visit.
  }
  return { seatId: newId(), roomId: null }
}

function keep(code: string, seat: KeptSeat): void {
  try {
    localStorage.setItem(keyOf(code), JSON.stringify(seat))
  } catch {
    // As above.
  }
}

/** As it stands in the room: capitals, no spaces or dashes. */
export const tidyCode = (code: string): string => code.replace(/[\s-]/g, '').toUpperCase()

/**
 * Takes the seat of a room screen, the same one after every reload. Nobody signs in.
 *
 * @throws AppError what the server says of the code, or that it does not answer.
 */
export async function takeScreenSeat(code: string): Promise<RoomState> {
  if (session.get().reply === null) receiveSession(await call('GET /api/session'))
  const seat = kept(code)
  // Kept before asking: an answer that is lost on its way must not leave a second seat behind.
  keep(code, seat)
  const state = await call('POST /api/rooms/join', {
    body: { code, seatId: seat.seatId, as: 'screen', tableId: null, tableName: '', name: '' },
  })
  keep(code, { ...seat, roomId: state.room.id })
  return state
}
