import type { Id } from '../domain/record.ts'
import type { SeatRole } from '../domain/workshop/room.ts'
import type { RoomState, RoundState, TableState } from '../domain/workshop/room-state.ts'
import { currentTrial, lookKey, ownTable } from './optimistic.ts'

/** The one thing this phone shows now. */
export type Step =
  | 'gone'
  | 'roles'
  | 'confidence-before'
  | 'wait'
  | 'plan'
  | 'watch-plan'
  | 'ready'
  | 'running'
  | 'keep'
  | 'inspect'
  | 'watch-inspect'
  | 'debrief'
  | 'watch-debrief'
  | 'confidence-after'
  | 'finished'
  | 'closed'

/** What only this phone knows. */
export interface OwnSide {
  readonly seatId: Id
  /** None: not chosen yet. All four: it does everything. */
  readonly roles: readonly SeatRole[]
  /** Questions it would not answer. */
  readonly skipped: readonly string[]
  /** Round that it plans without waiting for the class. */
  readonly ahead: number
  /** `plan 2`, `inspect 2` …: another's part that it has taken over. */
  readonly taken: string
  /** Round for which its own clock runs; 0 for none. */
  readonly timing: number
  /** Trial of which it has begun to go through the checklist, by its `lookKey`. */
  readonly inspecting: Id | null
}

export interface Where {
  readonly step: Step
  /** Round it is in, or the one it waits for; from 1. */
  readonly number: number
  readonly round: RoundState | undefined
}

/** What a phone shows, from the state of its table and what the phone is for. */
export function whereIs(state: RoomState, own: OwnSide): Where {
  const table = ownTable(state)
  const { room } = state
  const { settings } = room
  const last = table?.rounds.at(-1)
  const open = last !== undefined && last.stage !== 'done'
  const number = open
    ? last.number
    : last === undefined
      ? (table?.firstRound ?? 1)
      : last.number + 1
  const at = (step: Step): Where => ({ step, number, round: open ? last : undefined })
  if (table === undefined || table.removed) return at('gone')
  if (room.closedAt !== null) return at('closed')
  if (own.roles.length === 0) return at('roles')
  const seat = table.seats.find(({ id }) => id === own.seatId)
  const asks = (when: 'before' | 'after') =>
    settings.asksConfidence &&
    !own.skipped.includes(when) &&
    (when === 'before' ? seat?.confidenceBefore : seat?.confidenceAfter) == null
  if (asks('before') && !table.rounds.some(({ lockedAt }) => lockedAt !== null))
    return at('confidence-before')
  const over = number > settings.rounds || (room.moment === 'wrap-up' && !open)
  if (over) return at(asks('after') ? 'confidence-after' : 'finished')
  return at(stepOf(last, open, number, table, state, own))
}

function stepOf(
  last: RoundState | undefined,
  open: boolean,
  number: number,
  table: TableState,
  { room }: RoomState,
  own: OwnSide,
): Step {
  const does = (role: SeatRole) => own.roles.includes(role)
  const mine = (part: string, role: SeatRole) =>
    does(role) || own.taken === `${part} ${number}` || !isThere(table, role)
  const writes = mine('plan', 'recorder')
  const stage = open ? last!.stage : 'plan'
  if (stage === 'plan') {
    const early = room.settings.pace === 'together' && number > room.round
    if (early && own.ahead < number) return 'wait'
    return writes ? 'plan' : 'watch-plan'
  }
  if (stage === 'ready' || stage === 'running') return stage
  // Another phone has stopped; this one still times.
  if (own.timing === number) return 'running'
  const trial = currentTrial(last)
  if (trial?.unsettled && (does('timer') || writes)) return 'keep'
  const looked = trial?.inspections.some(({ seatId }) => seatId === own.seatId) ?? false
  // An inspector of its own is not hurried out of the checklist by another's.
  const apart = does('inspector') && own.roles.length < 4
  if (!looked && (own.inspecting === lookKey(trial, own.seatId) || (apart && trial !== undefined)))
    return 'inspect'
  if (stage === 'inspect' && trial?.inspections.length === 0)
    return mine('inspect', 'inspector') ? 'inspect' : 'watch-inspect'
  return mine('debrief', 'recorder') ? 'debrief' : 'watch-debrief'
}

/** Whether the people of a table are asked to change parts before a round. */
export const changesParts = ({ room }: RoomState, { seats }: TableState, number: number) =>
  room.settings.rotateRoles && number > 1 && seats.length > 1

/** Whether some phone of the table has this part. */
const isThere = (table: TableState, role: SeatRole) =>
  table.seats.some(({ roles }) => roles.includes(role))
