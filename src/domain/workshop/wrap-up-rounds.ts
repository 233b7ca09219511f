import { type Verdict, verdictOf } from '../outcome.ts'
import type { Id } from '../record.ts'
import { isCountOnly } from './inspecting.ts'
import type { RoomState, RoundPredictions, RoundState, TableState } from './room-state.ts'

/** One round of one table as the wrap-up counts it. */
export interface RoundRow {
  readonly tableId: Id
  readonly table: string
  /** In the room, from 1. */
  readonly round: number
  /** How often the table had done the task, this round included: 1, 2, 3 … */
  readonly turn: number
  readonly seconds: number | null
  readonly right: number | null
  readonly inspected: number | null
  /** Share of the inspected items that were right, 0–1. */
  readonly share: number | null
  /** Whether only the count of items right is known, not which they were. */
  readonly countOnly: boolean
  /** Locked ones only. */
  readonly predictions: RoundPredictions | null
  readonly timeVerdict: Verdict | null
  readonly qualityVerdict: Verdict | null
  readonly state: RoundState
}

/** The tables that count: those that the facilitator removed are left out. */
export const countedTables = (state: RoomState, tableId: Id | null = null): readonly TableState[] =>
  state.tables.filter((t) => !t.removed && (tableId === null || t.id === tableId))

/** Whether a round counts: it was locked or run. The next one lies open, carried over, and does not. */
export const hasBegun = ({ lockedAt, trials, seconds }: RoundState): boolean =>
  lockedAt !== null || trials.length > 0 || seconds !== null

/**
 * Every round that a table began, tables in their order in the room, rounds in order.
 *
 * @param state   The room as its facilitator sees it.
 * @param tableId Only this table; `null`: all that were not removed.
 */
export function roundRows(state: RoomState, tableId: Id | null = null): RoundRow[] {
  return countedTables(state, tableId).flatMap((table) => {
    let turn = 0
    return table.rounds.filter(hasBegun).map((round) => {
      if (round.trials.length > 0 || round.seconds !== null) turn++
      return rowOf(table, round, Math.max(1, turn))
    })
  })
}

function rowOf(table: TableState, round: RoundState, turn: number): RoundRow {
  const { seconds, right, inspected } = round
  const share = right === null || inspected === null || inspected === 0 ? null : right / inspected
  const predictions = round.lockedAt === null ? null : round.predictions
  const time = predictions?.time ?? null
  const quality = predictions?.quality ?? null
  const counted = round.trials.findLast(({ voidReason }) => voidReason === null)
  return {
    tableId: table.id,
    table: table.name,
    round: round.number,
    turn,
    seconds,
    right,
    inspected,
    share,
    countOnly: counted !== undefined && isCountOnly(counted.inspections),
    predictions,
    timeVerdict: time === null ? null : verdictOf(time, 'down', seconds),
    qualityVerdict: quality === null ? null : verdictOf(quality, 'up', share),
    state: round,
  }
}

/** A round that has a time. */
export type TimedRow = RoundRow & { readonly seconds: number }
export const isTimed = (row: RoundRow): row is TimedRow => row.seconds !== null && row.seconds > 0

/** Rows of each table, in the order of the tables. */
export function byTable<R extends RoundRow>(rows: readonly R[]): R[][] {
  const tables = new Map<Id, R[]>()
  for (const row of rows) tables.set(row.tableId, [...(tables.get(row.tableId) ?? []), row])
  return [...tables.values()]
}

/** Two rounds of one table, one right after the other, both timed. */
export interface Step {
  readonly from: TimedRow
  readonly to: TimedRow
}

/** Every step from one timed round of a table to its next. */
export function stepsOf(rows: readonly RoundRow[]): Step[] {
  return byTable(rows).flatMap((own) =>
    own.slice(1).flatMap((to, i) => {
      const from = own[i]!
      return isTimed(from) && isTimed(to) && to.round === from.round + 1 ? [{ from, to }] : []
    }),
  )
}
