import { mustBeOpen, mustBeRunning } from '../../domain/cycle.ts'
import type { Cycle, Id, Trial } from '../../domain/record.ts'
import type { RoomTable } from '../../domain/workshop/room.ts'
import {
  beganWith,
  sameTrial,
  type TimedTrial,
  wasTimedHere,
} from '../../domain/workshop/timing.ts'
import { AppError } from '../../errors.ts'
import { nextTrialNumber } from '../../storage/cycles.ts'
import { prepared } from '../../storage/prepared.ts'
import { notFound } from '../../storage/record.ts'
import {
  type Done,
  type MoveContext,
  type MoveOf,
  nameOf,
  type TrialToMove,
  tableToMove,
  trialMeant,
  trialToMove,
} from './move-context.ts'
import { observeQuality, observeTime, readingsOf } from './observe-trial.ts'
import { addNote, mustFindRound } from './round-writes.ts'

/** The clock runs. A second phone that starts beside the first times the same trial. */
export async function start(context: MoveContext, move: MoveOf<'start'>): Promise<Done> {
  const { at, mover } = context
  const table = await tableToMove(context, move)
  const { cycle, decision } = await mustFindRound(context, table, move.round)
  const trials = await timedTrials(context, cycle)
  const done = { tableId: table.id }
  // A stop may have made it already, where both were sent late.
  if (trials.some(({ id }) => id === move.trialId)) return done
  const began = notBeforeLock(cycle, at, true)
  const run = { from: Date.parse(began), to: Number.POSITIVE_INFINITY }
  const beside = sameTrial(trials, run, mover.seat?.id ?? null)
  // Which trial a clock that began long before another's belongs to shows when it stops.
  if (beside !== null)
    return beganWith(beside, run)
      ? { ...done, called: { as: move.trialId, trialId: beside.id } }
      : done
  // Nothing is timed yet; its stop is told that the round was decided.
  if (decision !== null && mover.seat !== null) return done
  mustBeRunning(cycle, decision)
  await insertTrial(context, table, cycle, move.trialId, began)
  await sayApart(context, table, cycle, trials)
  return { ...done, at: began }
}

/** A timer's time; also makes the trial where nothing of it has arrived yet. */
export async function stop(context: MoveContext, move: MoveOf<'stop'>): Promise<Done> {
  const { write, at, mover } = context
  const table = await tableToMove(context, move)
  const { cycle, decision } = await mustFindRound(context, table, move.round)
  const trials = await timedTrials(context, cycle)
  const meant = await trialMeant(context, move.trialId)
  const seatId = mover.seat?.id ?? null
  const stopped = Date.parse(at)
  const began = new Date(stopped - move.seconds * 1000).toISOString()
  const run = { from: Date.parse(began), to: stopped }
  const found =
    trials.find(({ id }) => id === meant) ??
    (wasTimedHere(move.how) ? sameTrial(trials, run, seatId) : null)
  const late = found === null && decision !== null && mover.seat !== null
  if (found === null && !late) mustBeRunning(cycle, decision)
  const trial =
    found === null
      ? await insertTrial(
          context,
          table,
          cycle,
          move.trialId,
          notBeforeLock(cycle, began, wasTimedHere(move.how)),
          late ? LATE : null,
        )
      : await write.current('trial', found.id, null)
  if (found === null && !late) await sayApart(context, table, cycle, trials)
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
  const done = {
    tableId: table.id,
    ...(trial.id === move.trialId ? {} : { called: { as: move.trialId, trialId: trial.id } }),
  }
  return late
    ? { ...done, refused: decidedBefore(move.round, 'It is kept as a void trial.') }
    : done
}

/** Why a trial does not count that another phone's decision came before. */
const LATE = 'Another phone of the table had decided the round before this trial was sent.'

/**
 * A second trial of a round is no second timing of the first: the record says that both are there,
 * since phones that were away did not know of each other's.
 */
async function sayApart(
  context: MoveContext,
  table: RoomTable,
  cycle: Cycle,
  trials: readonly TimedTrial[],
): Promise<void> {
  const { seat } = context.mover
  const others = trials.filter(
    ({ voidReason, seatIds }) => voidReason === null && !seatIds.includes(seat?.id ?? null),
  )
  if (seat === null || others.length === 0) return
  await addNote(
    context,
    table,
    cycle,
    `${seat.name || 'A second phone'} timed a trial that was not at the same time as the one before it. Both are kept; the later to arrive counts unless it is made void.`,
  )
}

/** Which timer to keep where they disagree. */
export async function keep(context: MoveContext, move: MoveOf<'keep'>): Promise<Done> {
  const { write } = context
  const whole = await trialToMove(context, move)
  if (whole.decision !== null && context.mover.seat !== null)
    return keptBeside(context, whole, `would keep another time: ${move.why.trim()}`)
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
  if (whole.decision !== null && context.mover.seat !== null && voidReason !== null)
    return keptBeside(context, whole, `would make trial ${whole.trial.number} void: ${voidReason}`)
  mustBeOpen(whole.cycle, whole.decision)
  const trial = await context.write.update('trial', whole.trial.id, null, { voidReason })
  await observeTime(context, { ...whole, trial }, null)
  await observeQuality(context, { ...whole, trial })
  return { tableId: whole.table.id }
}

/** What a phone says of a trial after the round was decided: its words stay, and change nothing. */
async function keptBeside(
  context: MoveContext,
  { table, cycle }: TrialToMove,
  words: string,
): Promise<Done> {
  const who = nameOf(context.mover) || 'A second phone'
  await addNote(context, table, cycle, `After the decision, ${who} ${words}`)
  const round = cycle.number + table.firstRound - 1
  return {
    tableId: table.id,
    refused: decidedBefore(round, 'What you wrote is kept beside it.'),
  }
}

const decidedBefore = (round: number, kept: string) =>
  new AppError(
    'cycle.closed',
    `Round ${round} was decided on another phone before this arrived.`,
    `${kept} Go on with what the page shows.`,
    { round },
  )

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
      .where('roomMove.kind', '=', 'start')
      .where('roomMove.calledTrialId', 'is', null),
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
  voidReason: string | null = null,
): Promise<Trial> {
  return write.insert('trial', {
    id,
    cycleId: cycle.id,
    number: await nextTrialNumber(write.read, cycle.id),
    at,
    byId: table.id,
    note: '',
    voidReason,
    version: 1,
  })
}
