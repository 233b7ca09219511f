import { carryPredictions, openCycle } from '../../domain/carry-over.ts'
import {
  decide,
  finishDo,
  finishStudy,
  lock,
  mustBeRunning,
  mustBeUnlocked,
} from '../../domain/cycle.ts'
import { observationsOfTest } from '../../domain/outcome.ts'
import type { Cycle, Decision, Id } from '../../domain/record.ts'
import { suggestDecision } from '../../domain/suggestion.ts'
import { AppError } from '../../errors.ts'
import {
  addendaOf,
  allCycleRows,
  type CycleRows,
  cycleRows,
  decisionOf,
  findCycle,
  nextCycleNumber,
  predictionsOf,
  trialsOf,
} from '../../storage/cycles.ts'
import { allMeasureRows, measuresOfProject, observationsOf } from '../../storage/measures.ts'
import { listStaff } from '../../storage/people.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { findProject } from '../../storage/units.ts'
import { type Handlers, newId } from '../call.ts'
import { findingsReply } from '../findings-reply.ts'
import { studyOfTest } from '../study-of-test.ts'
import { mustFindMeasure } from './measures.ts'
import { projectWithUnit } from './projects.ts'

/** A test as it is now, with its decision, for a change made on `version`. */
export async function cycleToChange(
  write: Write,
  id: Id,
  version: number | null,
  yours: object = {},
): Promise<{ cycle: Cycle; decision: Decision | null }> {
  const cycle = await write.current('cycle', id, version, yours)
  return { cycle, decision: await decisionOf(write.read, id) }
}

interface New {
  readonly id: Id
  readonly projectId: Id
  readonly title: string
}

/** Opens a test, the first of a ramp or one that builds on another, with what is carried over. */
async function openTest(
  write: Write,
  { id, projectId, title }: New,
  from: CycleRows | null,
  at: string,
): Promise<CycleRows> {
  const project = await findProject(write.read, projectId)
  if (project === undefined) throw notFound('project', projectId)
  const number = await nextCycleNumber(write.read, projectId)
  const { origin } = project
  const cycle = openCycle({ id, projectId, number, title, createdAt: at, origin }, from)
  await write.insert('cycle', cycle)
  const carried = from?.predictions ?? []
  const ids = carried.map(() => newId(at))
  const predictions = carryPredictions(carried, id, ids)
  for (const prediction of predictions) await write.insert('prediction', prediction)
  return { cycle, predictions, decision: null }
}

/** How many observations of a test its predicted measures have. */
async function observedBy(write: Write, cycle: Cycle, measureIds: readonly Id[]): Promise<number> {
  let observed = 0
  for (const id of measureIds)
    observed += observationsOfTest(cycle, await observationsOf(write.read, id)).length
  return observed
}

export const cycleRoutes: Handlers<
  | 'POST /api/cycles'
  | 'GET /api/cycles/:id'
  | 'GET /api/cycles/:id/findings'
  | 'PATCH /api/cycles/:id/plan'
  | 'PUT /api/cycles/:id/predictions/:predictionId'
  | 'DELETE /api/cycles/:id/predictions/:predictionId'
  | 'POST /api/cycles/:id/lock'
  | 'POST /api/cycles/:id/addenda'
  | 'PATCH /api/cycles/:id/do'
  | 'POST /api/cycles/:id/done'
  | 'PATCH /api/cycles/:id/study'
  | 'POST /api/cycles/:id/studied'
  | 'POST /api/cycles/:id/decision'
> = {
  'POST /api/cycles': async ({ db, body, me, at }) =>
    db.record({ action: 'cycle.create', by: me, at }, async (write) => {
      if (body.buildsOnId === null) return openTest(write, body, null, at)
      const before = await write.current('cycle', body.buildsOnId, null)
      if (before.projectId !== body.projectId)
        throw new AppError(
          'record.elsewhere',
          'The test to build on belongs to another project.',
          'Choose a test of the same project.',
          { cycleId: before.id },
        )
      return openTest(write, body, await cycleRows(write.read, before), at)
    }),

  'GET /api/cycles/:id': async ({ db, params }) => {
    const cycle = await findCycle(db.read, params.id)
    if (cycle === undefined) throw notFound('cycle', params.id)
    return {
      ...(await projectWithUnit(db, cycle.projectId)),
      ...(await cycleRows(db.read, cycle)),
      addenda: await addendaOf(db.read, cycle.id),
      trials: await trialsOf(db.read, cycle.id),
      measures: await allMeasureRows(db.read, cycle.projectId),
      siblings: await allCycleRows(db.read, cycle.projectId),
      people: (await listStaff(db.read, cycle.projectId)).map(({ id, name }) => ({ id, name })),
    }
  },

  'GET /api/cycles/:id/findings': async ({ db, params }) => {
    const cycle = await findCycle(db.read, params.id)
    if (cycle === undefined) throw notFound('cycle', params.id)
    return findingsReply(cycle.id, await studyOfTest(db.read, cycle))
  },

  'PATCH /api/cycles/:id/plan': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.plan', by: me, at }, async (write) => {
      const { version, ...change } = body
      const { cycle } = await cycleToChange(write, params.id, version, change)
      mustBeUnlocked(cycle)
      if (change.stopMeasureId !== undefined && change.stopMeasureId !== null)
        await mustBeMeasureOf(write, cycle, change.stopMeasureId)
      return write.update('cycle', params.id, null, change)
    }),

  'PUT /api/cycles/:id/predictions/:predictionId': async ({ db, params, body, me, at }) =>
    db.record({ action: 'prediction.save', by: me, at }, async (write) => {
      const { version, ...fields } = body
      const { cycle } = await cycleToChange(write, params.id, null)
      mustBeUnlocked(cycle)
      await mustBeMeasureOf(write, cycle, body.measureId)
      if (version === null)
        return write.insert('prediction', {
          ...fields,
          id: params.predictionId,
          cycleId: cycle.id,
          version: 1,
        })
      await mustBePredictionOf(write, cycle, params.predictionId, version, fields)
      return write.update('prediction', params.predictionId, null, fields)
    }),

  'DELETE /api/cycles/:id/predictions/:predictionId': async ({ db, params, body, me, at }) =>
    db.record({ action: 'prediction.remove', by: me, at }, async (write) => {
      const { cycle } = await cycleToChange(write, params.id, null)
      mustBeUnlocked(cycle)
      await mustBePredictionOf(write, cycle, params.predictionId, body.version)
      await write.remove('prediction', params.predictionId, null)
      return { removed: 1 }
    }),

  'POST /api/cycles/:id/lock': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.lock', by: me, at }, async (write) => {
      const { cycle } = await cycleToChange(write, params.id, body.version)
      const predictions = await predictionsOf(write.read, cycle.id)
      const measures = await measuresOfProject(write.read, cycle.projectId)
      return write.update('cycle', cycle.id, null, lock(cycle, predictions, measures, me.id, at))
    }),

  'POST /api/cycles/:id/addenda': async ({ db, params, body, me, at }) =>
    db.record({ action: 'addendum.create', by: me, at }, async (write) => {
      const { cycle } = await cycleToChange(write, params.id, null)
      mustBeRunning(cycle, null)
      if (body.predictionId !== null)
        await mustBePredictionOf(write, cycle, body.predictionId, null)
      return write.insert('addendum', { ...body, cycleId: cycle.id, at, byId: me.id })
    }),

  'PATCH /api/cycles/:id/do': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.do', by: me, at }, async (write) => {
      const { version, ...change } = body
      const { cycle, decision } = await cycleToChange(write, params.id, version, change)
      mustBeRunning(cycle, decision)
      return write.update('cycle', cycle.id, null, change)
    }),

  'POST /api/cycles/:id/done': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.done', by: me, at }, async (write) => {
      const { cycle, decision } = await cycleToChange(write, params.id, body.version)
      const predicted = (await predictionsOf(write.read, cycle.id)).map((p) => p.measureId)
      const observed = await observedBy(write, cycle, predicted)
      return write.update('cycle', cycle.id, null, finishDo(cycle, decision, observed, at))
    }),

  'PATCH /api/cycles/:id/study': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.study', by: me, at }, async (write) => {
      const { version, ...change } = body
      const { cycle, decision } = await cycleToChange(write, params.id, version, change)
      mustBeRunning(cycle, decision)
      return write.update('cycle', cycle.id, null, change)
    }),

  'POST /api/cycles/:id/studied': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.studied', by: me, at }, async (write) => {
      const { cycle, decision } = await cycleToChange(write, params.id, body.version)
      return write.update('cycle', cycle.id, null, finishStudy(cycle, decision, at))
    }),

  'POST /api/cycles/:id/decision': async ({ db, params, body, me, at }) =>
    db.record({ action: 'cycle.decide', by: me, at }, async (write) => {
      const { cycle, decision: earlier } = await cycleToChange(write, params.id, body.version)
      // Worked out from the record, whatever the page showed.
      const suggestion = suggestDecision(await studyOfTest(write.read, cycle))
      const decision = decide(cycle, earlier, body, me.id, at, suggestion)
      await write.insert('decision', decision)
      if (decision.kind !== 'adapt') return { cycle, decision, next: null }
      const predictions = await predictionsOf(write.read, cycle.id)
      const { projectId, title } = cycle
      const made = { id: body.nextId, projectId, title }
      return {
        cycle,
        decision,
        next: await openTest(write, made, { cycle, predictions, decision }, at),
      }
    }),
}

async function mustBeMeasureOf(write: Write, cycle: Cycle, measureId: Id): Promise<void> {
  const measure = await mustFindMeasure(write.read, measureId)
  if (measure.projectId !== cycle.projectId)
    throw new AppError(
      'record.elsewhere',
      `${measure.name} is a measure of another project.`,
      'Choose a measure of the same project.',
      { measureId },
    )
}

async function mustBePredictionOf(
  write: Write,
  cycle: Cycle,
  id: Id,
  version: number | null,
  yours: object = {},
): Promise<void> {
  const prediction = await write.current('prediction', id, version, yours)
  if (prediction.cycleId !== cycle.id) throw notFound('prediction', id)
}
