import { lookingBack } from '../../domain/workshop/looking-back.ts'
import type { Handlers } from '../call.ts'
import { mustBeClosedFor } from '../workshop/still-open.ts'
import { readRoom } from '../workshop/whole-room.ts'

export const wrapUpRoutes: Handlers<'GET /api/rooms/:id/wrap-up'> = {
  'GET /api/rooms/:id/wrap-up': async ({ db, params, me, at }) => {
    const whole = await readRoom(db.read, params.id)
    mustBeClosedFor(me, whole.room)
    const state = { ...whole, now: at, viewer: { as: 'lead' } as const }
    return me.role === 'coach' || me.role === 'owner' ? state : lookingBack(state)
  },
}
