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

/** Every planned experiment of a project, or of all projects, in order of making. */
export async function allExperimentRows(
  read: Read,
  projectId: Id | null,
): Promise<ExperimentRows[]> {
  let experiments = read.selectFrom('experiment').selectAll().orderBy('createdAt').orderBy('id')
  let factors = read
    .selectFrom('experimentFactor')
    .selectAll('experimentFactor')
    .orderBy('experimentFactor.position')
  let runs = read
    .selectFrom('experimentRun')
    .selectAll('experimentRun')
    .orderBy('experimentRun.position')
  if (projectId !== null) {
    experiments = experiments.where('projectId', '=', projectId)
    factors = factors
      .innerJoin('experiment', 'experiment.id', 'experimentFactor.experimentId')
      .where('experiment.projectId', '=', projectId)
    runs = runs
      .innerJoin('experiment', 'experiment.id', 'experimentRun.experimentId')
      .where('experiment.projectId', '=', projectId)
  }
  const factorsBy = byExperiment(await factors.execute())
  const runsBy = byExperiment(await runs.execute())
  return (await experiments.execute()).map((experiment) => ({
    experiment,
    factors: factorsBy.get(experiment.id) ?? [],
    runs: runsBy.get(experiment.id) ?? [],
  }))
}

function byExperiment<Row extends { readonly experimentId: Id }>(rows: readonly Row[]) {
  const groups = new Map<Id, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.experimentId)
    if (group === undefined) groups.set(row.experimentId, [row])
    else group.push(row)
  }
  return groups
}
