import type { Kysely } from 'kysely'
import type { Id, Measure, Origin, Project, Unit } from '../domain/record.ts'
import { unitIdOf } from '../domain/repeats.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

export const listUnits = (read: Read): Promise<Unit[]> =>
  read.selectFrom('unit').selectAll().orderBy('name').orderBy('id').execute()

export const listProjects = (read: Read): Promise<Project[]> =>
  read.selectFrom('project').selectAll().orderBy('name').orderBy('id').execute()

/** Projects of the wards; those of workshops' tables are reached through their workshop. */
export const listWardProjects = (read: Read): Promise<Project[]> =>
  read
    .selectFrom('project')
    .selectAll()
    .where((e) =>
      e.not(
        e.exists(
          e
            .selectFrom('roomTable')
            .select('roomTable.id')
            .whereRef('roomTable.projectId', '=', 'project.id'),
        ),
      ),
    )
    .orderBy('name')
    .orderBy('id')
    .execute()

export const findUnit = (read: Read, id: Id): Promise<Unit | undefined> =>
  read.selectFrom('unit').selectAll().where('id', '=', id).executeTakeFirst()

export const findProject = (read: Read, id: Id): Promise<Project | undefined> =>
  read.selectFrom('project').selectAll().where('id', '=', id).executeTakeFirst()

/** The units that measures of a project are taken on, and the project's own, by name. */
export const unitsOfMeasures = (
  read: Read,
  project: Project,
  measures: readonly Measure[],
): Promise<Unit[]> =>
  read
    .selectFrom('unit')
    .selectAll()
    .where('id', 'in', [
      ...new Set([project.unitId, ...measures.map((measure) => unitIdOf(measure, project))]),
    ])
    .orderBy('name')
    .orderBy('id')
    .execute()

/** Whether a unit has units, projects, measures or workshops in it. */
export async function isEmptyUnit(read: Read, id: Id): Promise<boolean> {
  const unit = await read
    .selectFrom('unit')
    .select('id')
    .where('parentId', '=', id)
    .limit(1)
    .executeTakeFirst()
  const project = await read
    .selectFrom('project')
    .select('id')
    .where('unitId', '=', id)
    .limit(1)
    .executeTakeFirst()
  const measure = await read
    .selectFrom('measure')
    .select('id')
    .where('unitId', '=', id)
    .limit(1)
    .executeTakeFirst()
  const room = await read
    .selectFrom('room')
    .select('id')
    .where('unitId', '=', id)
    .limit(1)
    .executeTakeFirst()
  return [unit, project, measure, room].every((inside) => inside === undefined)
}

export async function hasUnitsOf(read: Read, origin: Origin): Promise<boolean> {
  const row = await read
    .selectFrom('unit')
    .select('id')
    .where('origin', '=', origin)
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}
