import { allCycleRows, rampNotesOf } from '../../storage/cycles.ts'
import type { Database } from '../../storage/database.ts'
import { allMeasureRows } from '../../storage/measures.ts'
import { findPerson, listStaff } from '../../storage/people.ts'
import { notFound } from '../../storage/record.ts'
import { findProject, findUnit, unitsOfMeasures } from '../../storage/units.ts'
import { byUnitReply } from '../by-unit-reply.ts'
import type { Handlers } from '../call.ts'
import { mustKeepUnitsApart } from '../check-repeats.ts'
import { mustNotMix } from './units.ts'

/** A project with the unit it belongs to. @throws AppError `record.not_found`. */
export async function projectWithUnit(db: Database, id: string) {
  const project = await findProject(db.read, id)
  if (project === undefined) throw notFound('project', id)
  const unit = await findUnit(db.read, project.unitId)
  if (unit === undefined) throw notFound('unit', project.unitId)
  return { project, unit }
}

export const projectRoutes: Handlers<
  | 'POST /api/projects'
  | 'GET /api/projects/:id'
  | 'GET /api/projects/:id/by-unit'
  | 'PATCH /api/projects/:id'
> = {
  'POST /api/projects': async ({ db, body, me, at }) =>
    db.record({ action: 'project.create', by: me, at }, async (write) => {
      const unit = await findUnit(write.read, body.unitId)
      if (unit === undefined) throw notFound('unit', body.unitId)
      const { origin } = unit
      return write.insert('project', {
        ...body,
        leadId: origin === 'own' ? me.id : null,
        origin,
        createdAt: at,
        version: 1,
      })
    }),

  'GET /api/projects/:id': async ({ db, params }) => {
    const within = await projectWithUnit(db, params.id)
    const measures = await allMeasureRows(db.read, params.id)
    return {
      ...within,
      measures,
      units: await unitsOfMeasures(
        db.read,
        within.project,
        measures.map((m) => m.measure),
      ),
      cycles: await allCycleRows(db.read, params.id),
      rampNotes: await rampNotesOf(db.read, params.id),
      people: await listStaff(db.read, params.id),
    }
  },

  'GET /api/projects/:id/by-unit': async ({ db, params }) => {
    const { project } = await projectWithUnit(db, params.id)
    const measures = await allMeasureRows(db.read, project.id)
    return byUnitReply(measures, {
      project,
      units: await unitsOfMeasures(
        db.read,
        project,
        measures.map((m) => m.measure),
      ),
      cycles: await allCycleRows(db.read, project.id),
    })
  },

  'PATCH /api/projects/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'project.change', by: me, at }, async (write) => {
      const { version, ...change } = body
      const before = await write.current('project', params.id, version, change)
      if (change.unitId !== undefined) {
        const unit = await findUnit(write.read, change.unitId)
        if (unit === undefined) throw notFound('unit', change.unitId)
        mustNotMix(before.origin, unit.origin)
      }
      if (change.leadId !== undefined && change.leadId !== null) {
        const lead = await findPerson(write.read, change.leadId)
        if (lead === undefined) throw notFound('person', change.leadId)
        // A real person may lead an invented project; it is the other way round that would not last.
        if (before.origin === 'own') mustNotMix('own', lead.origin)
      }
      const saved = await write.update('project', params.id, null, change)
      // A measure without a unit of its own moves with its project.
      if (saved.unitId !== before.unitId) await mustKeepUnitsApart(write, saved.id)
      return saved
    }),
}
