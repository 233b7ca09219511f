import type { Interval } from '../../stats/interval.ts'
import { pairedDifference } from '../../stats/paired-difference.ts'
import type { RoomState } from './room-state.ts'
import { countedTables } from './wrap-up-rounds.ts'

/** Below this many people the figures would show single answers. */
export const FEWEST_ANSWERS = 3

/** What people said of their own confidence, 0–10, before the first round and after the last. */
export interface ConfidenceChange {
  readonly asked: boolean
  readonly both: number
  readonly beforeOnly: number
  readonly afterOnly: number
  /** Of those who answered both times; `null` where fewer than three did. */
  readonly change: {
    readonly before: number
    readonly after: number
    /** After less before, on average; with Student's interval for pairs where they vary. */
    readonly mean: number
    readonly interval: Interval | null
    readonly up: number
    readonly same: number
    readonly down: number
  } | null
}

/**
 * The before and after question, pair by pair. It shows how people felt, not what they can do.
 *
 * @see Student (1908), Biometrika 6:1.
 */
export function confidenceChange(state: RoomState): ConfidenceChange {
  const seats = countedTables(state).flatMap((table) => table.seats)
  const pairs = seats.flatMap(({ confidenceBefore: before, confidenceAfter: after }) =>
    before === null || after === null ? [] : [{ before, after }],
  )
  const only = (first: 'Before' | 'After', second: 'Before' | 'After') =>
    seats.filter((s) => s[`confidence${first}`] !== null && s[`confidence${second}`] === null)
      .length
  return {
    asked: state.room.settings.asksConfidence,
    both: pairs.length,
    beforeOnly: only('Before', 'After'),
    afterOnly: only('After', 'Before'),
    change: pairs.length < FEWEST_ANSWERS ? null : changeOf(pairs),
  }
}

function changeOf(pairs: readonly { readonly before: number; readonly after: number }[]) {
  const before = pairs.map((p) => p.before)
  const after = pairs.map((p) => p.after)
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length
  const changes = pairs.map((p) => p.after - p.before)
  const vary = changes.some((c) => c !== changes[0])
  return {
    before: mean(before),
    after: mean(after),
    mean: mean(changes),
    interval: vary ? pairedDifference(after, before) : null,
    up: changes.filter((c) => c > 0).length,
    same: changes.filter((c) => c === 0).length,
    down: changes.filter((c) => c < 0).length,
  }
}
