import {
  changeRun,
  lockExperiment,
  mustBeDrawn,
  mustBePlanned,
  openExperiment,
} from '../../domain/experiment.ts'
import { MOST_FACTORS } from '../../domain/experiment-design.ts'
import type { Experiment, ExperimentFactor } from '../../domain/experiment-record.ts'
import type { Id } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import {
  allExperimentRows,
  experimentRows,
  factorsOf,
  findExperiment,
} from '../../storage/experiments.ts'
import { measuresOfProject } from '../../storage/measures.ts'
import { listPeople } from '../../storage/people.ts'
import { notFound, type Write } from '../../storage/record.ts'
import { findProject } from '../../storage/units.ts'
import { type Handlers, newId } from '../call.ts'
import { mustFindMeasure } from './measures.ts'
import { projectWithUnit } from './projects.ts'

/** Largest seed both engines keep as a whole number. */
const SEEDS = 2 ** 31

/** Nobody chooses the order, so nobody can choose a convenient one. */
const drawSeed = () => crypto.getRandomValues(new Uint32Array(1))[0]! % SEEDS

export const experimentRoutes: Handlers<
  | 'GET /api/projects/:id/experiments'
  | 'POST /api/experiments'
  | 'GET /api/experiments/:id'
  | 'PATCH /api/experiments/:id/plan'
  | 'DELETE /api/experiments/:id'
  | 'PUT /api/experiments/:id/factors/:factorId'
  | 'DELETE /api/experiments/:id/factors/:factorId'
  | 'POST /api/experiments/:id/lock'
  | 'PATCH /api/experiment-runs/:id'
  | 'PATCH /api/experiments/:id/learned'
> = {
  'GET /api/projects/:id/experiments': async ({ db, params }) => ({
    ...(await projectWithUnit(db, params.id)),
    experiments: await allExperimentRows(db.read, params.id),
  }),

  'POST /api/experiments': async ({ db, body, me, at }) =>
    db.record({ action: 'experiment.create', by: me, at }, async (write) => {
      const project = await findProject(write.read, body.projectId)
      if (project === undefined) throw notFound('project', body.projectId)
      const made = openExperiment({ ...body, createdAt: at, origin: project.origin })
      return { experiment: await write.insert('experiment', made), factors: [], runs: [] }
    }),

  'GET /api/experiments/:id': async ({ db, params }) => {
    const experiment = await findExperiment(db.read, params.id)
    if (experiment === undefined) throw notFound('experiment', params.id)
    return {
      ...(await projectWithUnit(db, experiment.projectId)),
      ...(await experimentRows(db.read, experiment)),
      measures: await measuresOfProject(db.read, experiment.projectId),
      people: (await listPeople(db.read)).map(({ id, name }) => ({ id, name })),
    }
  },

  'PATCH /api/experiments/:id/plan': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.plan', by: me, at }, async (write) => {
      const { version, ...change } = body
      const experiment = await write.current('experiment', params.id, version, change)
      mustBePlanned(experiment)
      for (const measureId of [change.measureId, change.stopMeasureId])
        await mustBeMeasureOf(write, experiment, measureId ?? null)
      return write.update('experiment', params.id, null, change)
    }),

  'DELETE /api/experiments/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.remove', by: me, at }, async (write) => {
      const experiment = await write.current('experiment', params.id, body.version)
      mustBePlanned(experiment)
      const factors = await factorsOf(write.read, experiment.id)
      for (const { id } of factors) await write.remove('experimentFactor', id, null)
      await write.remove('experiment', experiment.id, null)
      return { removed: factors.length + 1 }
    }),

  'PUT /api/experiments/:id/factors/:factorId': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.factor', by: me, at }, async (write) => {
      const { version, ...fields } = body
      const experiment = await write.current('experiment', params.id, null)
      mustBePlanned(experiment)
      if (version !== null) {
        await mustBeFactorOf(write, experiment, params.factorId, version, fields)
        return write.update('experimentFactor', params.factorId, null, fields)
      }
      const factors = await factorsOf(write.read, experiment.id)
      mustHaveRoom(experiment, factors)
      return write.insert('experimentFactor', {
        ...fields,
        id: params.factorId,
        experimentId: experiment.id,
        position: (factors.at(-1)?.position ?? 0) + 1,
        version: 1,
      })
    }),

  'DELETE /api/experiments/:id/factors/:factorId': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.factor', by: me, at }, async (write) => {
      const experiment = await write.current('experiment', params.id, null)
      mustBePlanned(experiment)
      await mustBeFactorOf(write, experiment, params.factorId, body.version)
      await write.remove('experimentFactor', params.factorId, null)
      return { removed: 1 }
    }),

  'POST /api/experiments/:id/lock': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.lock', by: me, at }, async (write) => {
      const experiment = await write.current('experiment', params.id, body.version)
      const factors = await factorsOf(write.read, experiment.id)
      const measures = await measuresOfProject(write.read, experiment.projectId)
      const drawn = { seed: drawSeed(), byId: me.id, at }
      const { experiment: locked, runs } = lockExperiment(experiment, factors, measures, drawn)
      for (const run of runs) await write.insert('experimentRun', { ...run, id: newId(at) })
      await write.update('experiment', experiment.id, null, locked)
      return experimentRows(write.read, await write.current('experiment', experiment.id, null))
    }),

  'PATCH /api/experiment-runs/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.run', by: me, at }, async (write) => {
      const { version, ...change } = body
      const run = await write.current('experimentRun', params.id, version, change)
      const experiment = await write.current('experiment', run.experimentId, null)
      mustBeDrawn(experiment)
      return write.update(
        'experimentRun',
        run.id,
        null,
        changeRun(experiment, run, change, me.id, at),
      )
    }),

  'PATCH /api/experiments/:id/learned': async ({ db, params, body, me, at }) =>
    db.record({ action: 'experiment.learned', by: me, at }, async (write) => {
      const { version, learned } = body
      const experiment = await write.current('experiment', params.id, version, { learned })
      mustBeDrawn(experiment)
      return write.update('experiment', params.id, null, { learned })
    }),
}

async function mustBeMeasureOf(
  write: Write,
  { projectId }: Experiment,
  measureId: Id | null,
): Promise<void> {
  if (measureId === null) return
  const measure = await mustFindMeasure(write.read, measureId)
  if (measure.projectId === projectId) return
  throw new AppError(
    'record.elsewhere',
    `${measure.name} is a measure of another project.`,
    'Choose a measure of the same project.',
    { measureId },
  )
}

async function mustBeFactorOf(
  write: Write,
  experiment: Experiment,
  id: Id,
  version: number,
  yours: object = {},
): Promise<void> {
  const factor = await write.current('experimentFactor', id, version, yours)
  if (factor.experimentId !== experiment.id) throw notFound('experimentFactor', id)
}

function mustHaveRoom(experiment: Experiment, factors: readonly ExperimentFactor[]): void {
  if (factors.length < MOST_FACTORS) return
  throw new AppError(
    'experiment.too_many_factors',
    `This plan has ${MOST_FACTORS} changes already.`,
    'Take one out before adding another.',
    { experimentId: experiment.id },
  )
}
