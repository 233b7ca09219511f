import type { Id, Measure } from '../domain/record.ts'
import { differingFields, familiesOf, SHARED_FIELDS, unitIdOf } from '../domain/repeats.ts'
import { AppError } from '../errors.ts'
import { findMeasure, measuresOfProject } from '../storage/measures.ts'
import { notFound, type Write } from '../storage/record.ts'
import { findProject, findUnit } from '../storage/units.ts'
import { mustNotMix } from './routes/units.ts'

/**
 * A measure as it would be saved must fit the unit it is taken on and the measure it repeats.
 *
 * @throws AppError `record.*`, `example.mixed`, `measure.not_repeatable`, `measure.not_the_same`.
 */
export async function mustFitUnit(write: Write, measure: Measure): Promise<void> {
  const { id, projectId, unitId, sameAsId } = measure
  const project = (await findProject(write.read, projectId))!
  if (unitId !== null) {
    const unit = await findUnit(write.read, unitId)
    if (unit === undefined) throw notFound('unit', unitId)
    mustNotMix(project.origin, unit.origin)
  }
  if (sameAsId === null) return
  const original = await findMeasure(write.read, sameAsId)
  if (original === undefined) throw notFound('measure', sameAsId)
  if (original.projectId !== projectId)
    throw new AppError(
      'record.elsewhere',
      `${original.name} belongs to another project.`,
      'Repeat a measure of the same project.',
      { measureId: id, sameAsId },
    )
  const repeated = (await measuresOfProject(write.read, projectId)).some((m) => m.sameAsId === id)
  if (original.id === id || original.sameAsId !== null || repeated)
    throw new AppError(
      'measure.not_repeatable',
      original.id === id
        ? `${original.name} cannot repeat itself.`
        : repeated
          ? `${measure.name} is repeated on other units already, so it cannot repeat another.`
          : `${original.name} itself repeats another measure.`,
      'Repeat the measure that the others repeat.',
      { measureId: id, sameAsId },
    )
  const fields = differingFields(measure, original)
  if (fields.length > 0)
    throw new AppError(
      'measure.not_the_same',
      `${measure.name} would no longer be the same measure as ${original.name}: ${fields.join(', ')}.`,
      `Change it on ${original.name}; all that repeat it follow.`,
      { measureId: id, sameAsId, fields },
    )
}

/** After a change: no unit has the same measure twice. @throws AppError `measure.unit_taken`. */
export async function mustKeepUnitsApart(write: Write, projectId: Id): Promise<void> {
  const project = (await findProject(write.read, projectId))!
  const measures = await measuresOfProject(write.read, projectId)
  for (const { original, repeats } of familiesOf(measures.map((measure) => ({ measure })))) {
    const taken = new Map<Id, Measure>()
    for (const { measure } of [original, ...repeats]) {
      const unitId = unitIdOf(measure, project)
      const other = taken.get(unitId)
      if (other !== undefined) {
        const unit = await findUnit(write.read, unitId)
        throw new AppError(
          'measure.unit_taken',
          `${other.name} is measured on ${unit?.name ?? 'this unit'} already.`,
          'Choose another unit, or add the data to that measure.',
          { unitId, measureId: other.id },
        )
      }
      taken.set(unitId, measure)
    }
  }
}

/** Gives the repeats of a measure what was changed of what they share with it. */
export async function carryToRepeats(
  write: Write,
  before: Measure,
  after: Measure,
  mayChange: (repeat: Measure) => Promise<void>,
): Promise<void> {
  if (SHARED_FIELDS.every((field) => before[field] === after[field])) return
  const shared = Object.fromEntries(SHARED_FIELDS.map((field) => [field, after[field]]))
  for (const repeat of await measuresOfProject(write.read, after.projectId)) {
    if (repeat.sameAsId !== after.id) continue
    await mayChange(repeat)
    await write.update('measure', repeat.id, null, shared)
  }
}
