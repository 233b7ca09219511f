import { openCycle } from '../../domain/carry-over.ts'
import type { Room, RoomTable } from '../../domain/workshop/room.ts'
import { wardOrigin, wardPlan } from '../../domain/workshop/ward-start.ts'
import { notFound } from '../../storage/record.ts'
import { findRoom, findTable } from '../../storage/rooms.ts'
import { findUnit } from '../../storage/units.ts'
import type { Handlers } from '../call.ts'
import { mustBeClosedFor } from '../workshop/still-open.ts'

/**
 * Opens a project on a ward from what a table learned: the project and its first test, in Plan and
 * unlocked, in one write. Nothing of the classroom's measures or answers comes with it.
 */
export const wardRoutes: Handlers<'POST /api/rooms/:id/ward'> = {
  'POST /api/rooms/:id/ward': async ({ db, params, body, me, at }) =>
    db.record({ action: 'ward.begin', by: me, at }, async (write) => {
      const room = await findRoom(write.read, params.id)
      if (room === undefined) throw notFound('room', params.id)
      mustBeClosedFor(me, room)
      const table = body.tableId === null ? null : await findTable(write.read, body.tableId)
      if (body.tableId !== null && !belongs(table, room)) throw notFound('roomTable', body.tableId)
      const unit = await findUnit(write.read, body.unitId)
      if (unit === undefined) throw notFound('unit', body.unitId)
      const { origin } = unit
      const { projectId, cycleId, name, aim } = body
      await write.insert('project', {
        id: projectId,
        unitId: unit.id,
        name,
        aim,
        leadId: origin === 'own' ? me.id : null,
        origin,
        createdAt: at,
        version: 1,
      })
      const plan = wardPlan(body, wardOrigin(room, table ?? null))
      const made = { id: cycleId, projectId, number: 1, title: plan.title, createdAt: at, origin }
      await write.insert('cycle', { ...openCycle(made, null), ...plan })
      return { projectId, cycleId }
    }),
}

const belongs = (table: RoomTable | null | undefined, room: Room) => table?.roomId === room.id
