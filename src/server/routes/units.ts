import type { Id, Origin } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { findUnit, isEmptyUnit, listUnits, listWardProjects } from '../../storage/units.ts'
import type { Handlers } from '../call.ts'

/** What lies under an invented unit is removed with it, so nothing of one's own may be moved there. */
export function mustNotMix(mine: Origin, theirs: Origin): void {
  if (mine === theirs) return
  throw new AppError(
    'example.mixed',
    'The invented hospital and your own records cannot be mixed.',
    'Choose a unit or person of the same kind; the example can be removed as a whole.',
  )
}

async function parentOf(write: Write, parentId: Id) {
  const parent = await findUnit(write.read, parentId)
  if (parent === undefined) throw notFound('unit', parentId)
  return parent
}

/** @throws AppError `unit.loop` when a unit would come to lie within itself. */
async function mustNotLoop(write: Write, id: Id, parentId: Id): Promise<void> {
  for (let above: Id | null = parentId; above !== null; ) {
    if (above === id)
      throw new AppError(
        'unit.loop',
        'A unit cannot lie within itself.',
        'Choose a unit that is not below this one.',
        { id, parentId },
      )
    above = (await findUnit(write.read, above))?.parentId ?? null
  }
}

export const unitRoutes: Handlers<
  'GET /api/units' | 'POST /api/units' | 'PATCH /api/units/:id' | 'DELETE /api/units/:id'
> = {
  'GET /api/units': async ({ db }) => ({
    units: await listUnits(db.read),
    projects: await listWardProjects(db.read),
  }),

  'POST /api/units': async ({ db, body, me, at }) =>
    db.record({ action: 'unit.create', by: me, at }, async (write) => {
      const origin = body.parentId === null ? 'own' : (await parentOf(write, body.parentId)).origin
      return write.insert('unit', { ...body, origin, version: 1 })
    }),

  'PATCH /api/units/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'unit.change', by: me, at }, async (write) => {
      const { version, ...change } = body
      const before = await write.current('unit', params.id, version, change)
      if (change.parentId !== undefined && change.parentId !== before.parentId) {
        if (change.parentId === null) mustNotMix(before.origin, 'own')
        else {
          mustNotMix(before.origin, (await parentOf(write, change.parentId)).origin)
          await mustNotLoop(write, params.id, change.parentId)
        }
      }
      return write.update('unit', params.id, null, change)
    }),

  'DELETE /api/units/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'unit.remove', by: me, at }, async (write) => {
      const unit = await write.current('unit', params.id, body.version)
      if (!(await isEmptyUnit(write.read, params.id)))
        throw new AppError(
          'unit.not_empty',
          `${unit.name} still has units, projects, measures or workshops in it.`,
          'Move its units and projects to another unit first; a unit with a workshop, or with a measure of a project elsewhere, stays.',
          { id: params.id },
        )
      await write.remove('unit', params.id, null)
      return { removed: 1 }
    }),
}
