import { allCycleRows, rampNotesOf } from '../../storage/cycles.ts'
import type { Database } from '../../storage/database.ts'
import { allMeasureRows } from '../../storage/measures.ts'
import { findPerson, listStaff } from '../../storage/people.ts'
import { notFound } from '../../storage/record.ts'
import { findProject, findUnit } from '../../storage/units.ts'
import type { Handlers } from '../call.ts'
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
  'POST /api/projects' | 'GET /api/projects/:id' | 'PATCH /api/projects/:id'
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

  'GET /api/projects/:id': async ({ db, params }) => ({
    ...(await projectWithUnit(db, params.id)),
    measures: await allMeasureRows(db.read, params.id),
    cycles: await allCycleRows(db.read, params.id),
    rampNotes: await rampNotesOf(db.read, params.id),
    people: await listStaff(db.read, params.id),
  }),

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
      return write.update('project', params.id, null, change)
    }),
}
