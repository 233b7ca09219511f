import type { Kysely } from 'kysely'
import type { Experiment, ExperimentFactor, ExperimentRun } from '../domain/experiment-record.ts'
import type { Id } from '../domain/record.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

/** A planned experiment with its changes and its runs, each in order. */
export interface ExperimentRows {
  readonly experiment: Experiment
  readonly factors: readonly ExperimentFactor[]
  readonly runs: readonly ExperimentRun[]
}

export const findExperiment = (read: Read, id: Id): Promise<Experiment | undefined> =>
  read.selectFrom('experiment').selectAll().where('id', '=', id).executeTakeFirst()

export const factorsOf = (read: Read, experimentId: Id): Promise<ExperimentFactor[]> =>
  read
    .selectFrom('experimentFactor')
    .selectAll()
    .where('experimentId', '=', experimentId)
    .orderBy('position')
    .execute()

const runsOf = (read: Read, experimentId: Id): Promise<ExperimentRun[]> =>
  read
    .selectFrom('experimentRun')
    .selectAll()
    .where('experimentId', '=', experimentId)
    .orderBy('position')
    .execute()

export async function experimentRows(read: Read, experiment: Experiment): Promise<ExperimentRows> {
  return {
    experiment,
    factors: await factorsOf(read, experiment.id),
    runs: await runsOf(read, experiment.id),
  }
}

/** Every planned experiment of a project, in order of making. */
export async function experimentsOfProject(read: Read, projectId: Id): Promise<ExperimentRows[]> {
  const experiments = await read
    .selectFrom('experiment')
    .selectAll()
    .where('projectId', '=', projectId)
    .orderBy('createdAt')
    .orderBy('id')
    .execute()
  const all: ExperimentRows[] = []
  for (const experiment of experiments) all.push(await experimentRows(read, experiment))
  return all
}
