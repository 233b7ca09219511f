import { type Judged, judgedPredictions } from '../../domain/judged-predictions.ts'
import type { Room, RoomTable } from '../../domain/workshop/room.ts'
import { settingsOf } from '../../domain/workshop/table-state.ts'
import { allCycleRows } from '../../storage/cycles.ts'
import type { Database } from '../../storage/database.ts'
import { allMeasureRows } from '../../storage/measures.ts'
import { notFound } from '../../storage/record.ts'
import { findRoom, findTable, tablesOf } from '../../storage/rooms.ts'
import type { Handlers } from '../call.ts'
import { mustBeClosedFor } from '../workshop/still-open.ts'

/** How the predictions of some tables came out, in order of the lock. */
async function judgedAtTables(db: Database, tables: readonly RoomTable[]): Promise<Judged> {
  const each = await Promise.all(
    tables.map(async ({ projectId, name }) => {
      const tests = await allCycleRows(db.read, projectId)
      const judged = judgedPredictions(tests, tests, await allMeasureRows(db.read, projectId))
      const predictions = judged.predictions.map((p) => ({ ...p, title: `${name}: ${p.title}` }))
      return { predictions, hindsight: judged.hindsight }
    }),
  )
  return {
    predictions: each
      .flatMap(({ predictions }) => predictions)
      .sort((a, b) => (a.lockedAt < b.lockedAt ? -1 : a.lockedAt > b.lockedAt ? 1 : 0)),
    hindsight: each.reduce((sum, { hindsight }) => sum + hindsight, 0),
  }
}

const pointsOnly = (room: Room) => settingsOf(room).predicts === 'single'

export const workshopCalibrationRoutes: Handlers<
  'GET /api/calibration/tables/:id' | 'GET /api/calibration/workshops/:id'
> = {
  'GET /api/calibration/tables/:id': async ({ db, params, me }) => {
    const table = await findTable(db.read, params.id)
    const room = table === undefined ? undefined : await findRoom(db.read, table.roomId)
    if (table === undefined || room === undefined) throw notFound('roomTable', params.id)
    mustBeClosedFor(me, room)
    const name = `${table.name}, ${room.name}`
    return { name, pointsOnly: pointsOnly(room), ...(await judgedAtTables(db, [table])) }
  },

  'GET /api/calibration/workshops/:id': async ({ db, params, me }) => {
    const room = await findRoom(db.read, params.id)
    if (room === undefined) throw notFound('room', params.id)
    mustBeClosedFor(me, room)
    const tables = (await tablesOf(db.read, room.id)).filter((t) => t.removedAt === null)
    return { name: room.name, pointsOnly: pointsOnly(room), ...(await judgedAtTables(db, tables)) }
  },
}
