import type { Plan } from '../record.ts'
import type { Room, RoomTable } from './room.ts'
import type { TableState } from './room-state.ts'

/** What the wrap-up offers to begin with; all of it is to be rewritten. */
export interface WardStart {
  /** The change that the table decided on, in the words of the classroom; blank: it decided none. */
  readonly change: string
  /** The people at the table, as they called themselves. */
  readonly who: string
}

/**
 * What a table's last adapt decision gives a first test on the ward to begin with.
 *
 * @param table The table, or `null` for a fresh question.
 */
export function wardStart(table: TableState | null): WardStart {
  const adapted = table?.rounds.findLast((round) => round.decision?.kind === 'adapt')
  const names = table?.seats.map(({ name }) => name.trim()).filter((name) => name !== '') ?? []
  return {
    change: adapted?.decision?.nextChange?.trim() ?? '',
    who: [...new Set(names)].join(', '),
  }
}

/**
 * The sentence that leads from a test on the ward back to the workshop it came from.
 *
 * @param room  The workshop.
 * @param table The table the idea came from; `null`: the class.
 */
export function wardOrigin(
  room: Pick<Room, 'id' | 'name'>,
  table: Pick<RoomTable, 'id' | 'name'> | null,
): string {
  const from = table === null ? '' : `, table ${table.name}`
  const path =
    table === null ? `/workshops/${room.id}/wrap-up` : `/workshops/${room.id}/tables/${table.id}`
  return `The idea comes from the workshop “${room.name}”${from} (${path}), a classroom task without patients: what it showed there says nothing of this ward.`
}

/** What is known of the plan of a first test on the ward; everything else is asked afresh. */
export type WardPlan = Pick<Plan, 'title' | 'question' | 'change' | 'who'>

/**
 * The plan of the first test on the ward. Determination, approval and possible harm stay open: the
 * workshop's answers were those of an exercise.
 */
export function wardPlan(
  given: {
    readonly name: string
    readonly question: string
    readonly change: string
    readonly who: string
  },
  origin: string,
): WardPlan {
  return {
    title: given.name.trim(),
    question: given.question.trim(),
    change: `${given.change.trim()}\n\n${origin}`.trim(),
    who: given.who.trim(),
  }
}
