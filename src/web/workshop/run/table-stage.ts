import type { RoomState, RoundStage, TableState } from '../../../domain/workshop/room-state.ts'
import { hasLocked } from '../../../domain/workshop/visible.ts'

/**
 * Where a table stands in a round of the class. `waiting`: it has not begun the round. `excused`: the
 * class went on without it. `later`: it joined after this round.
 */
export type TableStage = RoundStage | 'waiting' | 'excused' | 'later'

export const STAGE_WORDS: Readonly<Record<TableStage, string>> = {
  waiting: 'not begun',
  plan: 'planning',
  ready: 'locked',
  running: 'running',
  inspect: 'inspecting',
  debrief: 'debriefing',
  done: 'decided',
  excused: 'gone on without',
  later: 'joined later',
}

export function stageOf(table: TableState, round: number): TableStage {
  const own = table.rounds.find(({ number }) => number === round)
  if (own !== undefined && own.stage !== 'plan') return own.stage
  if (table.excused.includes(round)) return 'excused'
  if (table.firstRound > round) return 'later'
  return own?.stage ?? 'waiting'
}

/** Tables that are in the class. */
export const tablesIn = (state: RoomState): readonly TableState[] =>
  state.tables.filter((table) => !table.removed)

/** Tables whose lock the class waits for in a round. */
export const awaited = (state: RoomState, round: number): readonly TableState[] =>
  tablesIn(state).filter((table) => table.firstRound <= round && !table.excused.includes(round))

/** Whether every table that is waited for has locked: then predictions may be seen. */
export function allLocked(state: RoomState, round: number): boolean {
  const tables = awaited(state, round)
  return tables.length > 0 && tables.every((table) => hasLocked(table, round))
}

/** Whether the table's trial in this round has been stopped. */
export const hasStopped = (table: TableState, round: number): boolean =>
  table.rounds.some(({ number, seconds }) => number === round && seconds !== null)
