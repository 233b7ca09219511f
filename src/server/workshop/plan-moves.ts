import { lock } from '../../domain/cycle.ts'
import type { Issue } from '../../domain/issue.ts'
import type { Cycle } from '../../domain/record.ts'
import type { Expectation, RoundPlan } from '../../domain/workshop/moves.ts'
import type { RoomTable } from '../../domain/workshop/room.ts'
import { excusedOf } from '../../domain/workshop/table-state.ts'
import { isShown } from '../../domain/workshop/visible.ts'
import { AppError } from '../../errors.ts'
import { predictionsOf } from '../../storage/cycles.ts'
import { measuresOfProject } from '../../storage/measures.ts'
import { prepared } from '../../storage/prepared.ts'
import { type Done, type MoveContext, type MoveOf, nameOf, tableToMove } from './move-context.ts'
import { wholeTables } from './room-writes.ts'
import { addNote, ago, openRound, savePlan, saysTheSame } from './round-writes.ts'

/** A lock that took longer than this to arrive says so. */
const LATE_MS = 30_000

export async function plan(context: MoveContext, move: MoveOf<'plan'>): Promise<Done> {
  const table = await tableToMove(context, move)
  const cycle = await openRound(context, table, move.round)
  if (cycle.lockedAt !== null) return besideLock(context, table, cycle, move)
  await savePlan(context, table, cycle, move)
  return { tableId: table.id }
}

/** What a phone plans or locks after another has locked: kept beside it, and it is told so. */
async function besideLock(
  context: MoveContext,
  table: RoomTable,
  cycle: Cycle,
  move: MoveOf<'plan'> | MoveOf<'lock'>,
): Promise<Done> {
  if (await saysTheSame(context, table, cycle, move)) return { tableId: table.id }
  const did = move.kind === 'lock' ? 'locked too, after the first' : 'was still writing'
  await addNote(context, table, cycle, `${whose(context)} ${did}:\n${inWords(move)}`)
  return {
    tableId: table.id,
    refused: new AppError(
      'cycle.locked',
      `Round ${move.round} was locked by another phone of ${table.name} before.`,
      'What you wrote is kept beside it. Go on with what is locked.',
      { cycleId: cycle.id },
    ),
  }
}

/** Freezes plan and predictions. What a second phone locks after the first is kept beside them. */
export async function lockRound(context: MoveContext, move: MoveOf<'lock'>): Promise<Done> {
  const { write, room, at, receivedAt } = context
  const table = await tableToMove(context, move)
  const cycle = await openRound(context, table, move.round)
  if (cycle.lockedAt !== null) return besideLock(context, table, cycle, move)
  const planned = await savePlan(context, table, cycle, move)
  mustPredictBoth(move)
  const predictions = await predictionsOf(write.read, cycle.id)
  const measures = await measuresOfProject(write.read, table.projectId)
  const { version: _, ...locked } = lockedIn(() =>
    lock({ ...planned, who: '' }, predictions, measures, table.id, at),
  )
  await write.update('cycle', cycle.id, null, { ...locked, who: await namesAt(context, table) })
  if (Date.parse(receivedAt) - Date.parse(at) > LATE_MS)
    await addNote(
      context,
      table,
      cycle,
      `Recorded offline; reached the server ${ago(at, receivedAt)} later.`,
    )
  if (excusedOf(table).includes(move.round)) {
    const others = (await wholeTables(write, room)).filter(({ id }) => id !== table.id)
    if (isShown(others, move.round))
      await addNote(
        context,
        table,
        cycle,
        context.mover.lead === null
          ? 'The class’s predictions of this round were already shown.'
          : 'Entered by the facilitator when the class’s predictions of this round were already shown.',
      )
  }
  return { tableId: table.id }
}

function mustPredictBoth({ time, quality }: RoundPlan): void {
  if (time !== null && quality !== null) return
  throw new AppError(
    'room.predict_both',
    time === null ? 'The time is not predicted yet.' : 'The items right are not predicted yet.',
    'Predict both, the time and the items right, then lock.',
  )
}

/** A phone shows one sentence: it is the first thing that is missing. */
function lockedIn<T>(work: () => T): T {
  try {
    return work()
  } catch (error) {
    if (!(error instanceof AppError) || error.code !== 'cycle.not_ready') throw error
    const issues = error.details['issues'] as readonly Issue[]
    throw new AppError(
      error.code,
      issues.map(({ message }) => message).join(' '),
      'Complete the plan, then lock it.',
      error.details,
    )
  }
}

async function namesAt({ write }: MoveContext, table: RoomTable): Promise<string> {
  const { read } = write
  const seats = await prepared(read, 'names at table', [table.roomId, table.id], (room, given) =>
    read
      .selectFrom('roomSeat')
      .select('name')
      .where('roomId', '=', room)
      .where('tableId', '=', given)
      .where('removedAt', 'is', null)
      .orderBy('joinedAt'),
  )
  const named = seats.map(({ name }) => name).filter((name) => name !== '')
  return named.length === 0 ? table.name : `${table.name}: ${named.join(', ')}`
}

const whose = ({ mover }: MoveContext) => nameOf(mover) || 'A second phone'

function inWords({ strategy, time, quality, why }: RoundPlan): string {
  const range = (e: Expectation | null, unit: (x: number) => string) =>
    e === null ? 'not predicted' : `${unit(e.expected)} (${unit(e.low)} to ${unit(e.high)})`
  return [
    `Strategy: ${strategy}`,
    `Time: ${range(time, (x) => `${x} s`)}`,
    `Items right: ${range(quality, (x) => `${Math.round(x * 100)} %`)}`,
    `Why: ${why}`,
  ].join('\n')
}
