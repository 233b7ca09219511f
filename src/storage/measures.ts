import type { Kysely } from 'kysely'
import type { Annotation, Id, Measure, Observation, Phase } from '../domain/record.ts'
import { prepared } from './prepared.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

/** A measure with everything that its chart shows. */
export interface MeasureRows {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
  readonly annotations: readonly Annotation[]
}

export const findMeasure = (read: Read, id: Id): Promise<Measure | undefined> =>
  read.selectFrom('measure').selectAll().where('id', '=', id).executeTakeFirst()

export const measuresOfProject = (read: Read, projectId: Id): Promise<Measure[]> =>
  prepared(read, 'measures of project', [projectId], (given) =>
    read.selectFrom('measure').selectAll().where('projectId', '=', given).orderBy('id'),
  )

export const observationsOf = (read: Read, measureId: Id): Promise<Observation[]> =>
  read
    .selectFrom('observation')
    .selectAll()
    .where('measureId', '=', measureId)
    .orderBy('at')
    .orderBy('id')
    .execute()

export async function measureRows(read: Read, measure: Measure): Promise<MeasureRows> {
  const phases = await read
    .selectFrom('phase')
    .selectAll()
    .where('measureId', '=', measure.id)
    .execute()
  const annotations = await read
    .selectFrom('annotation')
    .selectAll()
    .where('measureId', '=', measure.id)
    .orderBy('at')
    .orderBy('id')
    .execute()
  return {
    measure,
    observations: await observationsOf(read, measure.id),
    phases: inOrder(phases),
    annotations,
  }
}

/** Every measure of a project, or of all projects, with its data: three queries however many there are. */
export async function allMeasureRows(read: Read, projectId: Id | null): Promise<MeasureRows[]> {
  let measures = read.selectFrom('measure').selectAll().orderBy('id')
  let observations = read
    .selectFrom('observation')
    .selectAll('observation')
    .orderBy('observation.at')
    .orderBy('observation.id')
  let phases = read.selectFrom('phase').selectAll('phase')
  let annotations = read
    .selectFrom('annotation')
    .selectAll('annotation')
    .orderBy('annotation.at')
    .orderBy('annotation.id')
  if (projectId !== null) {
    measures = measures.where('projectId', '=', projectId)
    observations = observations
      .innerJoin('measure', 'measure.id', 'observation.measureId')
      .where('measure.projectId', '=', projectId)
    phases = phases
      .innerJoin('measure', 'measure.id', 'phase.measureId')
      .where('measure.projectId', '=', projectId)
    annotations = annotations
      .innerJoin('measure', 'measure.id', 'annotation.measureId')
      .where('measure.projectId', '=', projectId)
  }
  const byMeasure = grouped(await observations.execute())
  const phasesBy = grouped(await phases.execute())
  const annotationsBy = grouped(await annotations.execute())
  return (await measures.execute()).map((measure) => ({
    measure,
    observations: byMeasure.get(measure.id) ?? [],
    phases: inOrder(phasesBy.get(measure.id) ?? []),
    annotations: annotationsBy.get(measure.id) ?? [],
  }))
}

function grouped<T extends { readonly measureId: Id }>(rows: readonly T[]): Map<Id, T[]> {
  const groups = new Map<Id, T[]>()
  for (const row of rows) {
    const group = groups.get(row.measureId)
    if (group === undefined) groups.set(row.measureId, [row])
    else group.push(row)
  }
  return groups
}

/** Baseline first, then by the day each begins. */
function inOrder(phases: Phase[]): Phase[] {
  return phases.sort((a, b) => ((a.startsAt ?? '') < (b.startsAt ?? '') ? -1 : 1))
}
