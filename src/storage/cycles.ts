import type { Kysely } from 'kysely'
import type {
  Addendum,
  Cycle,
  Decision,
  Id,
  Prediction,
  RampNote,
  Trial,
} from '../domain/record.ts'
import type { Schema } from './tables.ts'

type Read = Kysely<Schema>

/** A test of change as charts and lists show it. */
export interface CycleRows {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
  readonly decision: Decision | null
}

export const findCycle = (read: Read, id: Id): Promise<Cycle | undefined> =>
  read.selectFrom('cycle').selectAll().where('id', '=', id).executeTakeFirst()

export const predictionsOf = (read: Read, cycleId: Id): Promise<Prediction[]> =>
  read.selectFrom('prediction').selectAll().where('cycleId', '=', cycleId).orderBy('id').execute()

export const decisionOf = async (read: Read, cycleId: Id): Promise<Decision | null> =>
  (await read
    .selectFrom('decision')
    .selectAll()
    .where('cycleId', '=', cycleId)
    .executeTakeFirst()) ?? null

export async function cycleRows(read: Read, cycle: Cycle): Promise<CycleRows> {
  return {
    cycle,
    predictions: await predictionsOf(read, cycle.id),
    decision: await decisionOf(read, cycle.id),
  }
}

/** Every test of a project, or of all projects, in order of number. */
export async function allCycleRows(read: Read, projectId: Id | null): Promise<CycleRows[]> {
  let cycles = read.selectFrom('cycle').selectAll().orderBy('projectId').orderBy('number')
  let predictions = read.selectFrom('prediction').selectAll('prediction').orderBy('prediction.id')
  let decisions = read.selectFrom('decision').selectAll('decision')
  if (projectId !== null) {
    cycles = cycles.where('projectId', '=', projectId)
    predictions = predictions
      .innerJoin('cycle', 'cycle.id', 'prediction.cycleId')
      .where('cycle.projectId', '=', projectId)
    decisions = decisions
      .innerJoin('cycle', 'cycle.id', 'decision.cycleId')
      .where('cycle.projectId', '=', projectId)
  }
  const predicted = new Map<Id, Prediction[]>()
  for (const prediction of await predictions.execute()) {
    const group = predicted.get(prediction.cycleId)
    if (group === undefined) predicted.set(prediction.cycleId, [prediction])
    else group.push(prediction)
  }
  const decided = new Map((await decisions.execute()).map((d) => [d.cycleId, d]))
  return (await cycles.execute()).map((cycle) => ({
    cycle,
    predictions: predicted.get(cycle.id) ?? [],
    decision: decided.get(cycle.id) ?? null,
  }))
}

/** What the team knows now about each idea of a project. */
export const rampNotesOf = (read: Read, projectId: Id): Promise<RampNote[]> =>
  read.selectFrom('rampNote').selectAll().where('projectId', '=', projectId).orderBy('id').execute()

export const rampNoteOf = (read: Read, rampId: Id): Promise<RampNote | undefined> =>
  read.selectFrom('rampNote').selectAll().where('rampId', '=', rampId).executeTakeFirst()

export const addendaOf = (read: Read, cycleId: Id): Promise<Addendum[]> =>
  read
    .selectFrom('addendum')
    .selectAll()
    .where('cycleId', '=', cycleId)
    .orderBy('at')
    .orderBy('id')
    .execute()

export const trialsOf = (read: Read, cycleId: Id): Promise<Trial[]> =>
  read.selectFrom('trial').selectAll().where('cycleId', '=', cycleId).orderBy('number').execute()

/** The number the next test of a project gets. */
export async function nextCycleNumber(read: Read, projectId: Id): Promise<number> {
  const { last } = await read
    .selectFrom('cycle')
    .select((e) => e.fn.max('number').as('last'))
    .where('projectId', '=', projectId)
    .executeTakeFirstOrThrow()
  return (last ?? 0) + 1
}

export async function nextTrialNumber(read: Read, cycleId: Id): Promise<number> {
  const { last } = await read
    .selectFrom('trial')
    .select((e) => e.fn.max('number').as('last'))
    .where('cycleId', '=', cycleId)
    .executeTakeFirstOrThrow()
  return (last ?? 0) + 1
}
