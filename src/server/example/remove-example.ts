import type { Id, Unit } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import type { Write } from '../../storage/record.ts'
import type { TableName } from '../../storage/tables.ts'

/**
 * Takes the invented hospital out again, with everything that anybody added to it. Records of one's
 * own cannot refer to it (see `example.mixed`), so they stay as they are.
 *
 * @returns How many records were removed.
 * @throws AppError `example.absent`.
 */
export async function removeExample(write: Write): Promise<number> {
  const { read } = write
  const units = await read.selectFrom('unit').selectAll().where('origin', '=', 'example').execute()
  if (units.length === 0)
    throw new AppError('example.absent', 'The invented hospital is not there.', 'Reload the page.')
  let removed = 0
  const remove = async (table: TableName, rows: readonly { readonly id: Id }[]) => {
    for (const { id } of rows) await write.remove(table, id, null)
    removed += rows.length
  }
  const ofMeasures = (table: 'observation' | 'annotation' | 'phase') =>
    read
      .selectFrom(table)
      .innerJoin('measure', 'measure.id', `${table}.measureId`)
      .innerJoin('project', 'project.id', 'measure.projectId')
      .where('project.origin', '=', 'example')
      .select(`${table}.id`)
      .execute()
  const ofCycles = (table: 'decision' | 'addendum' | 'trial' | 'prediction') =>
    read
      .selectFrom(table)
      .innerJoin('cycle', 'cycle.id', `${table}.cycleId`)
      .where('cycle.origin', '=', 'example')
      .select(`${table}.id`)
      .execute()

  const ofTrials = (table: 'reading' | 'inspection') =>
    read
      .selectFrom(table)
      .innerJoin('trial', 'trial.id', `${table}.trialId`)
      .innerJoin('cycle', 'cycle.id', 'trial.cycleId')
      .where('cycle.origin', '=', 'example')
      .select(`${table}.id`)
      .execute()
  const ofRooms = (table: 'roomMove' | 'roomSeat' | 'roomTable') =>
    read
      .selectFrom(table)
      .innerJoin('room', 'room.id', `${table}.roomId`)
      .innerJoin('unit', 'unit.id', 'room.unitId')
      .where('unit.origin', '=', 'example')
      .select(`${table}.id`)
      .execute()

  // Children before what they refer to.
  for (const table of ['reading', 'inspection'] as const) await remove(table, await ofTrials(table))
  for (const table of ['roomMove', 'roomSeat', 'roomTable'] as const)
    await remove(table, await ofRooms(table))
  await remove(
    'room',
    await read
      .selectFrom('room')
      .innerJoin('unit', 'unit.id', 'room.unitId')
      .where('unit.origin', '=', 'example')
      .select('room.id')
      .execute(),
  )
  for (const table of ['observation', 'annotation', 'phase'] as const)
    await remove(table, await ofMeasures(table))
  await remove(
    'rampNote',
    await read
      .selectFrom('rampNote')
      .innerJoin('cycle', 'cycle.id', 'rampNote.rampId')
      .where('cycle.origin', '=', 'example')
      .select('rampNote.id')
      .execute(),
  )
  for (const table of ['decision', 'addendum', 'trial', 'prediction'] as const)
    await remove(table, await ofCycles(table))
  await remove(
    'cycle',
    await read
      .selectFrom('cycle')
      .select('id')
      .where('origin', '=', 'example')
      .orderBy('number', 'desc')
      .execute(),
  )
  for (const table of ['experimentRun', 'experimentFactor'] as const)
    await remove(
      table,
      await read
        .selectFrom(table)
        .innerJoin('experiment', 'experiment.id', `${table}.experimentId`)
        .where('experiment.origin', '=', 'example')
        .select(`${table}.id`)
        .execute(),
    )
  await remove(
    'experiment',
    await read.selectFrom('experiment').select('id').where('origin', '=', 'example').execute(),
  )
  await remove(
    'measure',
    await read
      .selectFrom('measure')
      .innerJoin('project', 'project.id', 'measure.projectId')
      .where('project.origin', '=', 'example')
      // Repeats go before what they repeat.
      .select(['measure.id', 'measure.sameAsId'])
      .execute()
      .then((rows) =>
        rows.sort((a, b) => Number(a.sameAsId === null) - Number(b.sameAsId === null)),
      ),
  )
  await remove(
    'project',
    await read.selectFrom('project').select('id').where('origin', '=', 'example').execute(),
  )
  await remove('unit', leavesFirst(units))
  await remove(
    'person',
    await read.selectFrom('person').select('id').where('origin', '=', 'example').execute(),
  )
  return removed
}

function leavesFirst(units: readonly Unit[]): Unit[] {
  const parents = new Map(units.map((unit) => [unit.id, unit.parentId]))
  const depth = (id: Id | null): number => (id === null ? 0 : 1 + depth(parents.get(id) ?? null))
  return [...units].sort((a, b) => depth(b.id) - depth(a.id))
}
