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
import { prepared } from './prepared.ts'
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

/** A test of a project by its number. */
export const findCycleByNumber = async (
  read: Read,
  projectId: Id,
  number: number,
): Promise<Cycle | undefined> =>
  (
    await prepared(read, 'cycle by number', [projectId, number], (project, n) =>
      read.selectFrom('cycle').selectAll().where('projectId', '=', project).where('number', '=', n),
    )
  )[0]

/** The newest test of a project with a smaller number. */
export const lastCycleBefore = async (
  read: Read,
  projectId: Id,
  number: number,
): Promise<Cycle | undefined> =>
  (
    await prepared(read, 'last cycle before', [projectId, number], (project, n) =>
      read
        .selectFrom('cycle')
        .selectAll()
        .where('projectId', '=', project)
        .where('number', '<', n)
        .orderBy('number', 'desc')
        .limit(1),
    )
  )[0]

export const predictionsOf = (read: Read, cycleId: Id): Promise<Prediction[]> =>
  prepared(read, 'predictions of cycle', [cycleId], (given) =>
    read.selectFrom('prediction').selectAll().where('cycleId', '=', given).orderBy('id'),
  )

export const decisionOf = async (read: Read, cycleId: Id): Promise<Decision | null> =>
  (
    await prepared(read, 'decision of cycle', [cycleId], (given) =>
      read.selectFrom('decision').selectAll().where('cycleId', '=', given),
    )
  )[0] ?? null

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
  const [row] = await prepared(read, 'last trial of cycle', [cycleId], (given) =>
    read
      .selectFrom('trial')
      .select((e) => e.fn.max('number').as('last'))
      .where('cycleId', '=', given),
  )
  return (row?.last ?? 0) + 1
}
