import { carryPredictions, openCycle } from '../../domain/carry-over.ts'
import { mustBeUnlocked } from '../../domain/cycle.ts'
import type { Cycle, Decision, Id, Instant, Prediction } from '../../domain/record.ts'
import type { Expectation, RoundPlan } from '../../domain/workshop/moves.ts'
import { roundPlan } from '../../domain/workshop/new-table.ts'
import type { RoomTable } from '../../domain/workshop/room.ts'
import { AppError } from '../../errors.ts'
import {
  cycleRows,
  decisionOf,
  findCycleByNumber,
  lastCycleBefore,
  predictionsOf,
} from '../../storage/cycles.ts'
import { newId } from '../call.ts'
import type { MoveContext } from './move-context.ts'

/** The test of change that is a table's round, if it has begun. */
function findRound(
  { write }: MoveContext,
  table: RoomTable,
  round: number,
): Promise<Cycle | undefined> {
  return findCycleByNumber(write.read, table.projectId, round - table.firstRound + 1)
}

/** @throws AppError `cycle.not_locked` where the table has not begun the round. */
export async function mustFindRound(
  context: MoveContext,
  table: RoomTable,
  round: number,
): Promise<{ cycle: Cycle; decision: Decision | null }> {
  const cycle = await findRound(context, table, round)
  if (cycle === undefined)
    throw new AppError(
      'cycle.not_locked',
      `${table.name} has not begun round ${round}.`,
      'Lock the predictions first, so that they stand before the data.',
      { round },
    )
  return { cycle, decision: await decisionOf(context.write.read, cycle.id) }
}

/** A table's round, begun now if it was not: with the plan of the one before carried over. */
export async function openRound(
  context: MoveContext,
  table: RoomTable,
  round: number,
): Promise<Cycle> {
  const found = await findRound(context, table, round)
  if (found !== undefined) return found
  const { write, room, settings, at } = context
  if (round < table.firstRound || round > settings.rounds)
    throw new AppError(
      'room.no_such_round',
      `${table.name} plays rounds ${table.firstRound} to ${settings.rounds}; there is no round ${round} for it.`,
      'Go on with the round that the page shows.',
      { round },
    )
  const number = round - table.firstRound + 1
  const before = await lastCycleBefore(write.read, table.projectId, number)
  const project = await write.current('project', table.projectId, null)
  const from = before === undefined ? null : await cycleRows(write.read, before)
  const { id, title } = { id: newId(context.receivedAt), title: `Round ${round}` }
  const { origin } = project
  const opened = openCycle(
    { id, projectId: table.projectId, number, title, createdAt: at, origin },
    from,
  )
  const cycle = await write.insert('cycle', { ...opened, ...roundPlan(round, room) })
  const carried = from?.predictions ?? []
  const ids = carried.map(() => newId(context.receivedAt))
  for (const prediction of carryPredictions(carried, id, ids))
    await write.insert('prediction', prediction)
  return cycle
}

/** Writes what a table intends; nothing of a locked round. */
export async function savePlan(
  context: MoveContext,
  table: RoomTable,
  cycle: Cycle,
  plan: RoundPlan,
): Promise<Cycle> {
  mustBeUnlocked(cycle)
  const there = await predictionsOf(context.write.read, cycle.id)
  await savePrediction(context, cycle, there, table.timeMeasureId, plan.time, plan)
  await savePrediction(context, cycle, there, table.qualityMeasureId, plan.quality, plan)
  return context.write.update('cycle', cycle.id, null, { change: plan.strategy })
}

async function savePrediction(
  { write, receivedAt }: MoveContext,
  cycle: Cycle,
  there: readonly Prediction[],
  measureId: Id,
  expectation: Expectation | null,
  { confidence, why }: RoundPlan,
): Promise<void> {
  const found = there.find((p) => p.measureId === measureId)
  if (expectation === null) {
    if (found !== undefined) await write.remove('prediction', found.id, null)
    return
  }
  const { expected, low, high } = expectation
  const fields = { expected, low, high, confidence, why }
  if (found !== undefined) await write.update('prediction', found.id, null, fields)
  else
    await write.insert('prediction', {
      ...fields,
      id: newId(receivedAt),
      cycleId: cycle.id,
      measureId,
      version: 1,
    })
}

/** Whether a locked round says the same as a plan. */
export async function saysTheSame(
  { write }: MoveContext,
  table: RoomTable,
  cycle: Cycle,
  plan: RoundPlan,
): Promise<boolean> {
  const there = await predictionsOf(write.read, cycle.id)
  const same = (measureId: Id, given: Expectation | null) => {
    const p = there.find((one) => one.measureId === measureId)
    if (p === undefined || given === null) return p === undefined && given === null
    return p.expected === given.expected && p.low === given.low && p.high === given.high
  }
  return (
    cycle.change === plan.strategy &&
    same(table.timeMeasureId, plan.time) &&
    same(table.qualityMeasureId, plan.quality) &&
    there.every((p) => p.confidence === plan.confidence && p.why === plan.why)
  )
}

/** Writes something beside a locked round. */
export async function addNote(
  { write, at, receivedAt }: MoveContext,
  table: RoomTable,
  cycle: Cycle,
  text: string,
): Promise<void> {
  await write.insert('addendum', {
    id: newId(receivedAt),
    cycleId: cycle.id,
    predictionId: null,
    text,
    at,
    byId: table.id,
  })
}

/** How long ago, in words: `10 min`, `45 s`. */
export function ago(from: Instant, to: Instant): string {
  const seconds = Math.round((Date.parse(to) - Date.parse(from)) / 1000)
  if (seconds < 90) return `${seconds} s`
  const minutes = Math.round(seconds / 60)
  return minutes < 90 ? `${minutes} min` : `${Math.round(minutes / 60)} h`
}
