import { judgedApart } from '../../domain/judged-predictions.ts'
import type { Id, Person } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { allCycleRows, type CycleRows } from '../../storage/cycles.ts'
import type { Database } from '../../storage/database.ts'
import { allMeasureRows } from '../../storage/measures.ts'
import { listPeople } from '../../storage/people.ts'
import { notFound } from '../../storage/record.ts'
import { findProject, findUnit, listProjects, listUnits } from '../../storage/units.ts'
import type { Handlers } from '../call.ts'

/** Somebody's own predictions are for them, and for those who coach. */
function mustMaySee(me: Person, id: Id): void {
  if (me.id === id || me.role === 'coach' || me.role === 'owner') return
  throw new AppError(
    'calibration.private',
    'How somebody’s predictions came out is for them, coaches and owners only.',
    'Look at your own, or at those of a project, a unit or everybody.',
    { personId: id },
  )
}

async function judged(db: Database, projectId: Id | null, counts: (test: CycleRows) => boolean) {
  const all = await allCycleRows(db.read, projectId)
  const measures = await allMeasureRows(db.read, projectId)
  return judgedApart(all.filter(counts), all, measures)
}

/** A unit and every unit in it. */
async function unitsWithin(db: Database, id: Id): Promise<ReadonlySet<Id>> {
  const units = await listUnits(db.read)
  const within = new Set([id])
  for (let before = 0; before < within.size; ) {
    before = within.size
    for (const { id: child, parentId } of units)
      if (parentId !== null && within.has(parentId)) within.add(child)
  }
  return within
}

export const calibrationRoutes: Handlers<
  | 'GET /api/calibration/organisation'
  | 'GET /api/calibration/units/:id'
  | 'GET /api/calibration/projects/:id'
  | 'GET /api/calibration/people/:id'
> = {
  'GET /api/calibration/organisation': async ({ db }) => ({
    name: 'Everybody',
    ...(await judged(db, null, () => true)),
  }),

  'GET /api/calibration/units/:id': async ({ db, params }) => {
    const unit = await findUnit(db.read, params.id)
    if (unit === undefined) throw notFound('unit', params.id)
    const within = await unitsWithin(db, unit.id)
    const projects = (await listProjects(db.read)).filter((p) => within.has(p.unitId))
    const ids = new Set(projects.map((p) => p.id))
    return { name: unit.name, ...(await judged(db, null, (t) => ids.has(t.cycle.projectId))) }
  },

  'GET /api/calibration/projects/:id': async ({ db, params }) => {
    const project = await findProject(db.read, params.id)
    if (project === undefined) throw notFound('project', params.id)
    return { name: project.name, ...(await judged(db, project.id, () => true)) }
  },

  'GET /api/calibration/people/:id': async ({ db, params, me }) => {
    mustMaySee(me, params.id)
    const person = (await listPeople(db.read)).find((p) => p.id === params.id)
    if (person === undefined) throw notFound('person', params.id)
    return {
      name: person.name,
      ...(await judged(db, null, (t) => t.cycle.lockedById === person.id)),
    }
  },
}
