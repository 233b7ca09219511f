import type { Person } from '../../domain/record.ts'
import type { Room } from '../../domain/workshop/room.ts'
import { AppError } from '../../errors.ts'

/**
 * While a workshop is open its record is for the facilitator: somebody who could read it in another
 * window would know what the other tables predict.
 *
 * @throws AppError `room.still_open`.
 */
export function mustBeClosedFor(me: Pick<Person, 'role'>, room: Pick<Room, 'name' | 'closedAt'>) {
  if (room.closedAt !== null || me.role === 'coach' || me.role === 'owner') return
  throw new AppError(
    'room.still_open',
    `The workshop ${room.name} is still open; its record is for coaches and owners until it is closed.`,
    'Wait until the facilitator closes it.',
  )
}
