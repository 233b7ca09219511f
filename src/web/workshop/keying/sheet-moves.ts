import { formatDuration } from '../../../domain/duration.ts'
import type { Id } from '../../../domain/record.ts'
import type { Expectation, MoveBody } from '../../../domain/workshop/moves.ts'
import type { RoundState } from '../../../domain/workshop/room-state.ts'
import type { MadeMove } from '../lib/send-moves.ts'
import type { RoundEntry, RowIds } from './sheet.ts'

export interface RoundToSave {
  readonly tableId: Id
  readonly round: number
  readonly entry: RoundEntry
  readonly ids: RowIds
  /** What the record has of the round already. */
  readonly there: RoundState | undefined
  readonly items: number
}

/** METHODS 1: the usual confidence, where a sheet does not ask for one. */
const CONFIDENCE = 0.8
const NO_REASON = 'The paper sheet does not ask why.'

/**
 * The moves that put one round of a paper sheet into the record, in order. What the record has
 * already is left as it is.
 *
 * @param madeAt Steady milliseconds of now.
 */
export function movesOf(save: RoundToSave, madeAt: number): MadeMove[] {
  const { tableId, round, entry, ids, there, items } = save
  const made: MadeMove[] = []
  const add = (id: Id, body: MoveBody) => made.push({ id, madeAt, body: { ...body, tableId } })
  const { plan, measured, found } = entry
  if (plan !== null)
    add(ids.lock, { kind: 'lock', round, ...plan, confidence: CONFIDENCE, why: NO_REASON })

  const trialId = there?.trials.findLast(({ voidReason }) => voidReason === null)?.id ?? ids.trial
  for (const [i, seconds] of (measured?.seconds ?? []).entries()) {
    const readingId = ids.readings[i === 0 ? 0 : 1]
    const id = ids.stops[i === 0 ? 0 : 1]
    add(id, { kind: 'stop', round, trialId, readingId, seconds, how: 'paper', note: '' })
  }
  if (measured != null && measured.keep !== null) {
    const { index, why } = measured.keep
    add(ids.keep, { kind: 'keep', trialId, readingId: ids.readings[index], why })
  }
  const inspectionId = ids.inspection
  if (found !== null)
    add(
      ids.inspect,
      found.marks === null
        ? { kind: 'count-right', trialId, inspectionId, right: found.right }
        : { kind: 'inspect', trialId, inspectionId, marks: found.marks },
    )

  const { learned, decision, reason, next } = entry
  add(ids.decide, {
    kind: 'decide',
    round,
    surprises: '',
    learned,
    predictionReview: reviewOf(entry, there, items),
    decision,
    reason,
    nextChange: next,
  })
  return made
}

/** The prediction against the outcome in plain words, where the sheet leaves that to the reader. */
function reviewOf(entry: RoundEntry, there: RoundState | undefined, items: number): string {
  const time = entry.plan?.time ?? there?.predictions?.time ?? null
  const quality = entry.plan?.quality ?? there?.predictions?.quality ?? null
  const seconds = secondsOf(entry) ?? there?.seconds ?? null
  const right = rightOf(entry) ?? there?.right ?? null
  const count = (share: number) => String(Math.round(share * items))
  const parts = [
    sentence('Time', time, seconds, formatDuration, 'quicker', 'slower'),
    sentence('Items right', quality, right === null ? null : right / items, count, 'fewer', 'more'),
  ]
  return `From the paper sheet. ${parts.filter((part) => part !== null).join(' ')}`.trim()
}

function rightOf({ found }: RoundEntry): number | null {
  if (found === null) return null
  return found.marks === null ? found.right : found.marks.filter((mark) => mark === 1).length
}

/** One time of the readings: the kept one, or their mean. */
function secondsOf({ measured }: RoundEntry): number | null {
  if (measured === null) return null
  const { seconds, keep } = measured
  if (keep !== null) return seconds[keep.index]!
  return seconds.reduce((sum, s) => sum + s, 0) / seconds.length
}

function sentence(
  what: string,
  said: Expectation | null,
  came: number | null,
  text: (value: number) => string,
  below: string,
  above: string,
): string | null {
  if (said === null || came === null) return null
  const range = said.low === said.high ? text(said.low) : `${text(said.low)} to ${text(said.high)}`
  // Shares such as 11/12 are not exact.
  const slack = 1e-9
  const word =
    came < said.low - slack
      ? `${below} than said`
      : came > said.high + slack
        ? `${above} than said`
        : 'as said'
  return `${what} ${text(came)}, ${word} (${range}).`
}
