import { formatDuration } from '../../../domain/duration.ts'
import type { DecisionKind, Id } from '../../../domain/record.ts'
import { isCountOnly } from '../../../domain/workshop/inspecting.ts'
import type { Kit } from '../../../domain/workshop/kit.ts'
import type { Expectation } from '../../../domain/workshop/moves.ts'
import type { RoomSettings } from '../../../domain/workshop/room.ts'
import type { RoundState } from '../../../domain/workshop/room-state.ts'
import {
  type CellReading,
  type Found,
  type Measured,
  readDecision,
  readMeasured,
  readQualitySaid,
  readRight,
  readTimeSaid,
} from './read-cells.ts'

/** The cells of one round, in the order in which they are keyed and printed. */
export const CELLS = [
  'strategy',
  'time',
  'quality',
  'measured',
  'right',
  'learned',
  'decision',
  'reason',
  'next',
] as const
export type CellName = (typeof CELLS)[number]

/** One round of a paper sheet as it is typed. */
export type RowText = Readonly<Record<CellName, string>>

export const EMPTY_ROW: RowText = {
  strategy: '',
  time: '',
  quality: '',
  measured: '',
  right: '',
  learned: '',
  decision: '',
  reason: '',
  next: '',
}

/** What the sheet is read by. */
export interface SheetRules {
  readonly kit: Kit
  readonly settings: RoomSettings
}

/** A whole round, ready to be saved. `null`: recorded before, or not on the sheet. */
export interface RoundEntry {
  readonly plan: {
    readonly strategy: string
    readonly time: Expectation
    readonly quality: Expectation
  } | null
  readonly measured: Measured | null
  readonly found: Found | null
  readonly learned: string
  readonly decision: DecisionKind
  readonly reason: string
  readonly next: string
}

/** What a round lacks of the sheet: a phone may have recorded some of it. */
export interface Recorded {
  readonly plan: boolean
  readonly time: boolean
  readonly right: boolean
}

export function recordedOf(round: RoundState | undefined): Recorded {
  const trial = round?.trials.findLast(({ voidReason }) => voidReason === null)
  return {
    plan: round !== undefined && round.lockedAt !== null,
    time: trial !== undefined && trial.readings.length > 0,
    right: trial !== undefined && trial.right !== null,
  }
}

/** The reading of one cell; texts are values as they are. */
export function readCell(
  cell: CellName,
  text: string,
  { kit, settings }: SheetRules,
): CellReading<unknown> {
  const items = kit.checklist.length
  switch (cell) {
    case 'time':
      return readTimeSaid(text)
    case 'quality':
      return readQualitySaid(text, items)
    case 'measured':
      return readMeasured(text, settings.timersAgreeWithin)
    case 'right':
      return readRight(text, items)
    case 'decision':
      return readDecision(text)
    default:
      return text.trim() === '' ? { kind: 'blank' } : { kind: 'value', value: text.trim() }
  }
}

/** What a blank cell lacks; the inspection may be missing on a sheet. */
const MISSING: Readonly<Partial<Record<CellName, string>>> = {
  strategy: 'Write the strategy of this round.',
  time: 'Write the predicted time.',
  quality: 'Write the predicted number of items right.',
  measured: 'Write the time that was measured.',
  learned: 'Write what was learned; “cannot tell yet” is a finding too.',
  decision: 'Press a for adopt, d for adapt or x for abandon.',
  reason: 'Write the reason.',
  next: 'Adapt needs the next change.',
}

/** Cells that this round is not asked for: recorded already, or a next change that adapt alone has. */
export function isAsked(cell: CellName, row: RowText, recorded: Recorded): boolean {
  if (cell === 'strategy' || cell === 'time' || cell === 'quality') return !recorded.plan
  if (cell === 'measured') return !recorded.time
  if (cell === 'right') return !recorded.right
  if (cell === 'next') return /^(d|adapt)$/i.test(row.decision.trim())
  return true
}

/** What stands in the way of saving a round, by cell. */
export function rowProblems(
  row: RowText,
  recorded: Recorded,
  rules: SheetRules,
): Readonly<Partial<Record<CellName, string>>> {
  const found: Partial<Record<CellName, string>> = {}
  for (const cell of CELLS) {
    if (!isAsked(cell, row, recorded)) continue
    const reading = readCell(cell, row[cell], rules)
    const missing = MISSING[cell]
    if (reading.kind === 'blank' && missing !== undefined) found[cell] = missing
    if (reading.kind === 'problem' || reading.kind === 'question') found[cell] = reading.message
  }
  return found
}

/** A round that has no problems, as data. */
export function entryOf(row: RowText, recorded: Recorded, rules: SheetRules): RoundEntry {
  const read = <T>(cell: CellName): T | null => {
    if (!isAsked(cell, row, recorded)) return null
    const reading = readCell(cell, row[cell], rules)
    return reading.kind === 'value' ? (reading.value as T) : null
  }
  const time = read<Expectation>('time')
  const quality = read<Expectation>('quality')
  return {
    plan:
      time === null || quality === null ? null : { strategy: row.strategy.trim(), time, quality },
    measured: read<Measured>('measured'),
    found: read<Found>('right'),
    learned: row.learned.trim(),
    decision: read<DecisionKind>('decision') ?? 'adapt',
    reason: row.reason.trim(),
    next: read<string>('next') ?? '',
  }
}

/** What a blank cell takes over from the round before when it is reached; `''`: nothing. */
export function carriedOver(cell: CellName, before: RowText | null): string {
  if (before === null) return ''
  if (cell === 'strategy') return before.next.trim() === '' ? before.strategy : before.next
  return cell === 'quality' ? before.quality : ''
}

/** The round before as it stands in the record, for what is carried over. */
export function rowOf(round: RoundState, items: number): RowText {
  const count = (share: number) => String(Math.round(share * items))
  const quality = round.predictions?.quality
  return {
    ...EMPTY_ROW,
    strategy: round.strategy ?? '',
    quality:
      quality == null ? '' : [quality.low, quality.expected, quality.high].map(count).join(' '),
    next: round.decision?.nextChange ?? '',
  }
}

/** Whether a round is decided, so that nothing of it is keyed any more. */
export const isPlayed = (round: RoundState) => round.stage === 'done'

/** A saved round in one line. */
export function roundLine(round: RoundState): string {
  const { seconds, right, inspected, decision, predictions } = round
  const said = predictions?.time
  return [
    seconds === null ? 'no time' : formatDuration(seconds),
    said == null ? null : `said ${formatDuration(said.low)} to ${formatDuration(said.high)}`,
    right === null || inspected === null
      ? 'not inspected'
      : `${right} of ${inspected} right${isBare(round) ? ' (count only)' : ''}`,
    decision?.kind,
  ]
    .filter((part) => part != null)
    .join(', ')
}

/** Whether its inspection is a bare count. */
const isBare = ({ trials }: RoundState) =>
  isCountOnly(trials.findLast(({ voidReason }) => voidReason === null)?.inspections ?? [])

/** Ids of everything that saving a round makes: the same on every try, so nothing is there twice. */
export interface RowIds {
  readonly lock: Id
  readonly trial: Id
  readonly stops: readonly [Id, Id]
  readonly readings: readonly [Id, Id]
  readonly keep: Id
  readonly inspect: Id
  readonly inspection: Id
  readonly decide: Id
}

export const rowIds = (newId: () => Id): RowIds => ({
  lock: newId(),
  trial: newId(),
  stops: [newId(), newId()],
  readings: [newId(), newId()],
  keep: newId(),
  inspect: newId(),
  inspection: newId(),
  decide: newId(),
})
