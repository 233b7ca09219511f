import type { Routes } from '../../api/contract.ts'
import type { Id, Measure, Observation, Phase } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { allCycleRows, findCycle } from '../../storage/cycles.ts'
import { findMeasure, measureRows, measuresOfProject } from '../../storage/measures.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { findProject, unitsOfMeasures } from '../../storage/units.ts'
import type { Handlers } from '../call.ts'
import { mustBeValid, observationIssues } from '../check-observation.ts'
import { carryToRepeats, mustFitUnit, mustKeepUnitsApart } from '../check-repeats.ts'
import { projectWithUnit } from './projects.ts'

/** @throws AppError `record.not_found`. */
export async function mustFindMeasure(read: Write['read'], id: Id): Promise<Measure> {
  const measure = await findMeasure(read, id)
  if (measure === undefined) throw notFound('measure', id)
  return measure
}

/** A test that data or a phase refers to: of the same project, and begun. */
async function mustFitCycle(write: Write, projectId: Id, cycleId: Id, begun: boolean) {
  const cycle = await findCycle(write.read, cycleId)
  if (cycle === undefined) throw notFound('cycle', cycleId)
  if (cycle.projectId !== projectId)
    throw new AppError(
      'record.elsewhere',
      'This test of change belongs to another project.',
      'Choose a test of the same project.',
      { cycleId },
    )
  if (begun && cycle.lockedAt === null)
    throw new AppError(
      'cycle.not_locked',
      'This test has not started.',
      'Lock the plan first, so that the prediction stands before the data.',
      { cycleId },
    )
}

const POOLED: ReadonlySet<string> = new Set(['classified', 'rates'])

async function mustFitData(write: Write, before: Measure, after: Partial<Measure>): Promise<void> {
  if (after.dataKind === undefined || after.dataKind === before.dataKind) return
  if (POOLED.has(before.dataKind) === POOLED.has(after.dataKind)) return
  const one = await write.read
    .selectFrom('observation')
    .select('id')
    .where('measureId', '=', before.id)
    .limit(1)
    .executeTakeFirst()
  if (one === undefined) return
  throw new AppError(
    'measure.has_data',
    `${before.name} has observations that do not fit the new kind of data.`,
    'Make a new measure for the other kind, or remove the observations first.',
    { measureId: before.id },
  )
}

export const measureRoutes: Handlers<
  | 'POST /api/measures'
  | 'GET /api/measures/:id'
  | 'PATCH /api/measures/:id'
  | 'POST /api/measures/:id/observations'
> = {
  'POST /api/measures': async ({ db, body, me, at }) =>
    db.record({ action: 'measure.create', by: me, at }, async (write) => {
      if ((await findProject(write.read, body.projectId)) === undefined)
        throw notFound('project', body.projectId)
      const measure: Measure = { unitId: null, sameAsId: null, ...body, version: 1 }
      await mustFitUnit(write, measure)
      const saved = await write.insert('measure', measure)
      await mustKeepUnitsApart(write, saved.projectId)
      return saved
    }),

  'GET /api/measures/:id': async ({ db, params }) => {
    const measure = await mustFindMeasure(db.read, params.id)
    const cycles = await allCycleRows(db.read, measure.projectId)
    const within = await projectWithUnit(db, measure.projectId)
    const originalId = measure.sameAsId ?? measure.id
    const family = (await measuresOfProject(db.read, measure.projectId)).filter(
      (m) => m.id === originalId || m.sameAsId === originalId,
    )
    return {
      ...within,
      ...(await measureRows(db.read, measure)),
      family: family.length > 1 ? family : [],
      units: await unitsOfMeasures(db.read, within.project, [measure, ...family]),
      cycles: cycles.filter((c) => c.predictions.some((p) => p.measureId === measure.id)),
    }
  },

  'PATCH /api/measures/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'measure.change', by: me, at }, async (write) => {
      const { version, ...change } = body
      const before = await write.current('measure', params.id, version, change)
      await mustFitData(write, before, change)
      await mustFitUnit(write, { ...before, ...change })
      const saved = await write.update('measure', params.id, null, change)
      await carryToRepeats(write, before, saved, (repeat) => mustFitData(write, repeat, saved))
      await mustKeepUnitsApart(write, saved.projectId)
      return saved
    }),

  'POST /api/measures/:id/observations': async ({ db, params, body, me, at }) =>
    db.record({ action: 'observations.save', by: me, at }, async (write) => {
      const measure = await mustFindMeasure(write.read, params.id)
      mustBeValid(body.save.flatMap((row, i) => observationIssues(measure, row, `save.${i}`)))
      await mustFitTests(write, measure, body.save)
      for (const { id, version } of body.remove) {
        await mustBeOf(write, measure, id)
        await write.remove('observation', id, version)
      }
      const observations: Observation[] = []
      for (const { version, ...row } of body.save) {
        if (version === undefined) {
          const made = { ...row, measureId: measure.id, version: 1 }
          observations.push(await write.insert('observation', made))
        } else {
          await mustBeOf(write, measure, row.id)
          observations.push(await write.update('observation', row.id, version, row))
        }
      }
      return { observations }
    }),
}

async function mustBeOf(write: Write, measure: Measure, id: Id): Promise<void> {
  const { measureId } = await write.current('observation', id, null)
  if (measureId !== measure.id) throw notFound('observation', id)
}

type Saved = Routes['POST /api/measures/:id/observations']['body']['save'][number]

async function mustFitTests(write: Write, measure: Measure, rows: readonly Saved[]): Promise<void> {
  for (const cycleId of new Set(rows.map((row) => row.cycleId)))
    if (cycleId !== null) await mustFitCycle(write, measure.projectId, cycleId, true)
  for (const row of rows) {
    if (row.trialId === null) continue
    const trial = await write.current('trial', row.trialId, null)
    if (trial.cycleId !== row.cycleId) throw notFound('trial', row.trialId)
  }
}

/** @throws AppError `phase.*`, `record.*` when a phase does not fit its measure. */
async function checkPhase(write: Write, phase: Phase): Promise<void> {
  const measure = await mustFindMeasure(write.read, phase.measureId)
  const { startsAt, frozenThrough } = phase
  if (phase.cycleId !== null) await mustFitCycle(write, measure.projectId, phase.cycleId, true)
  const refuse = (code: string, message: string, hint: string) => {
    throw new AppError(code, message, hint, { phaseId: phase.id })
  }
  if (startsAt !== null && phase.reason.trim() === '')
    refuse('phase.no_reason', 'A new phase needs a reason.', 'Say what changed, and how you know.')
  if (startsAt !== null && frozenThrough !== null && frozenThrough < startsAt)
    refuse(
      'phase.dates_reversed',
      `Limits cannot be frozen on ${frozenThrough}, before the phase begins on ${startsAt}.`,
      'Choose a later day, or leave the limits open.',
    )
  const others = await write.read
    .selectFrom('phase')
    .select(['id', 'startsAt'])
    .where('measureId', '=', measure.id)
    .execute()
  if (others.some((other) => other.id !== phase.id && other.startsAt === startsAt))
    refuse(
      'phase.same_start',
      startsAt === null
        ? 'This measure has a baseline phase already.'
        : `A phase begins on ${startsAt} already.`,
      'Change that phase instead.',
    )
}

export const phaseRoutes: Handlers<
  | 'POST /api/phases'
  | 'PATCH /api/phases/:id'
  | 'DELETE /api/phases/:id'
  | 'POST /api/annotations'
  | 'PATCH /api/annotations/:id'
  | 'DELETE /api/annotations/:id'
> = {
  'POST /api/phases': async ({ db, body, me, at }) =>
    db.record({ action: 'phase.create', by: me, at }, async (write) => {
      const phase = { ...body, version: 1 }
      await checkPhase(write, phase)
      return write.insert('phase', phase)
    }),

  'PATCH /api/phases/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'phase.change', by: me, at }, async (write) => {
      const { version, ...change } = body
      const before = await write.current('phase', params.id, version, change)
      await checkPhase(write, { ...before, ...change })
      return write.update('phase', params.id, null, change)
    }),

  'DELETE /api/phases/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'phase.remove', by: me, at }, async (write) => {
      await write.remove('phase', params.id, body.version)
      return { removed: 1 }
    }),

  'POST /api/annotations': async ({ db, body, me, at }) =>
    db.record({ action: 'annotation.create', by: me, at }, async (write) => {
      await mustFindMeasure(write.read, body.measureId)
      return write.insert('annotation', { ...body, version: 1 })
    }),

  'PATCH /api/annotations/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'annotation.change', by: me, at }, (write) => {
      const { version, ...change } = body
      return write.update('annotation', params.id, version, change)
    }),

  'DELETE /api/annotations/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'annotation.remove', by: me, at }, async (write) => {
      await write.remove('annotation', params.id, body.version)
      return { removed: 1 }
    }),
}
