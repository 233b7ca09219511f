import { mustBeOpen, mustBeRunning } from '../../domain/cycle.ts'
import type { Cycle, Id, Trial } from '../../domain/record.ts'
import type { RoomTable } from '../../domain/workshop/room.ts'
import { sameTrial, type TimedTrial, wasTimedHere } from '../../domain/workshop/timing.ts'
import { nextTrialNumber } from '../../storage/cycles.ts'
import { prepared } from '../../storage/prepared.ts'
import { notFound } from '../../storage/record.ts'
import {
  type Done,
  type MoveContext,
  type MoveOf,
  nameOf,
  tableToMove,
  trialToMove,
} from './move-context.ts'
import { observeQuality, observeTime, readingsOf } from './observe-trial.ts'
import { mustFindRound } from './round-writes.ts'

/** The clock runs. A second phone that starts beside the first times the same trial. */
export async function start(context: MoveContext, move: MoveOf<'start'>): Promise<Done> {
  const { at, mover } = context
  const table = await tableToMove(context, move)
  const { cycle, decision } = await mustFindRound(context, table, move.round)
  const trials = await timedTrials(context, cycle)
  const done = { tableId: table.id }
  // A stop may have made it already, where both were sent late.
  if (trials.some(({ id }) => id === move.trialId)) return done
  mustBeRunning(cycle, decision)
  const began = notBeforeLock(cycle, at, true)
  const run = { from: Date.parse(began), to: Number.POSITIVE_INFINITY }
  const beside = sameTrial(
    trials.filter(({ seconds }) => seconds === null),
    run,
    mover.seat?.id ?? null,
  )
  if (beside !== null) return done
  await insertTrial(context, table, cycle, move.trialId, began)
  return { ...done, at: began }
}

/** A timer's time; also makes the trial where nothing of it has arrived yet. */
export async function stop(context: MoveContext, move: MoveOf<'stop'>): Promise<Done> {
  const { write, at, mover } = context
  const table = await tableToMove(context, move)
  const { cycle, decision } = await mustFindRound(context, table, move.round)
  const trials = await timedTrials(context, cycle)
  const seatId = mover.seat?.id ?? null
  const stopped = Date.parse(at)
  const began = new Date(stopped - move.seconds * 1000).toISOString()
  const run = { from: Date.parse(began), to: stopped }
  const found =
    trials.find(({ id }) => id === move.trialId) ??
    (wasTimedHere(move.how) ? sameTrial(trials, run, seatId) : null)
  if (found === null) mustBeRunning(cycle, decision)
  const trial =
    found === null
      ? await insertTrial(
          context,
          table,
          cycle,
          move.trialId,
          notBeforeLock(cycle, began, wasTimedHere(move.how)),
        )
      : await write.current('trial', found.id, null)
  await write.insert('reading', {
    id: move.readingId,
    trialId: trial.id,
    seatId,
    by: nameOf(mover) || table.name,
    seconds: move.seconds,
    how: move.how,
    note: move.note.trim(),
    // What comes after the decision is kept, and changes nothing of what was decided on.
    kept: decision === null ? null : 0,
    version: 1,
  })
  if (decision === null) await observeTime(context, { table, trial, cycle, decision }, '')
  return { tableId: table.id }
}

/** Which timer to keep where they disagree. */
export async function keep(context: MoveContext, move: MoveOf<'keep'>): Promise<Done> {
  const { write } = context
  const whole = await trialToMove(context, move)
  mustBeOpen(whole.cycle, whole.decision)
  const readings = await readingsOf(context, whole.trial.id)
  const kept = readings.find(({ id }) => id === move.readingId)
  if (kept === undefined) throw notFound('reading', move.readingId)
  for (const { id } of readings)
    await write.update('reading', id, null, { kept: id === kept.id ? 1 : 0 })
  const all = readings.map(({ seconds }) => `${seconds.toFixed(1)} s`).join(' and ')
  await observeTime(
    context,
    whole,
    `Kept ${kept.seconds.toFixed(1)} s of ${all}: ${move.why.trim()}`,
  )
  return { tableId: whole.table.id }
}

export async function voidTrial(context: MoveContext, move: MoveOf<'void'>): Promise<Done> {
  return setVoid(context, move, move.reason.trim())
}

export async function unvoidTrial(context: MoveContext, move: MoveOf<'unvoid'>): Promise<Done> {
  return setVoid(context, move, null)
}

async function setVoid(
  context: MoveContext,
  move: MoveOf<'void'> | MoveOf<'unvoid'>,
  voidReason: string | null,
): Promise<Done> {
  const whole = await trialToMove(context, move)
  mustBeOpen(whole.cycle, whole.decision)
  const trial = await context.write.update('trial', whole.trial.id, null, { voidReason })
  await observeTime(context, { ...whole, trial }, null)
  await observeQuality(context, { ...whole, trial })
  return { tableId: whole.table.id }
}

/**
 * When a run began, not before the lock where only the way to the server makes it look so: a lock
 * can take longer to arrive than the start after it. Keyed times have no moment of their own.
 */
function notBeforeLock(cycle: Cycle, began: string, timedHere: boolean): string {
  if (cycle.lockedAt === null || began >= cycle.lockedAt) return began
  const early = Date.parse(cycle.lockedAt) - Date.parse(began)
  return timedHere && early > LONGEST_WAY_MS ? began : cycle.lockedAt
}
const LONGEST_WAY_MS = 15_000

async function timedTrials({ write }: MoveContext, cycle: Cycle): Promise<TimedTrial[]> {
  const { read } = write
  const trials = await prepared(read, 'trials to time', [cycle.id], (given) =>
    read
      .selectFrom('trial')
      .select(['id', 'at', 'voidReason'])
      .where('cycleId', '=', given)
      .orderBy('number'),
  )
  if (trials.length === 0) return []
  const readings = await prepared(read, 'readings of cycle', [cycle.id], (given) =>
    read
      .selectFrom('reading')
      .innerJoin('trial', 'trial.id', 'reading.trialId')
      .select(['reading.trialId', 'reading.seatId', 'reading.seconds'])
      .where('trial.cycleId', '=', given),
  )
  const starts = await prepared(read, 'starts of project', [cycle.projectId], (given) =>
    read
      .selectFrom('roomMove')
      .innerJoin('roomTable', 'roomTable.id', 'roomMove.tableId')
      .select(['roomMove.at', 'roomMove.seatId'])
      .where('roomTable.projectId', '=', given)
      .where('roomMove.kind', '=', 'start'),
  )
  return trials.map((trial) => {
    const own = readings.filter(({ trialId }) => trialId === trial.id)
    const starter = starts.find(({ at }) => at === trial.at)
    return {
      ...trial,
      seatIds: [...own, ...(starter === undefined ? [] : [starter])].map(({ seatId }) => seatId),
      seconds: own.length === 0 ? null : Math.max(...own.map(({ seconds }) => seconds)),
    }
  })
}

async function insertTrial(
  { write }: MoveContext,
  table: RoomTable,
  cycle: Cycle,
  id: Id,
  at: string,
): Promise<Trial> {
  return write.insert('trial', {
    id,
    cycleId: cycle.id,
    number: await nextTrialNumber(write.read, cycle.id),
    at,
    byId: table.id,
    note: '',
    voidReason: null,
    version: 1,
  })
}
