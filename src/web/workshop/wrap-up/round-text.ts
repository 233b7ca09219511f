import { formatDuration } from '../../../domain/duration.ts'
import type { Verdict } from '../../../domain/outcome.ts'
import type { Expectation } from '../../../domain/workshop/moves.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'

const percent = (share: number) => `${Math.round(share * 100)} %`

/** What was predicted: a range, or the one number. */
export function expectationText(e: Expectation | null, kind: 'time' | 'quality'): string {
  if (e === null) return '–'
  const text = kind === 'time' ? formatDuration : percent
  return e.low === e.high ? text(e.expected) : `${text(e.low)} to ${text(e.high)}`
}

/** What came, and how it lay to the range. A single number has no range to lie in. */
export function outcomeText(row: RoundRow, kind: 'time' | 'quality'): string {
  const value =
    kind === 'time'
      ? row.seconds === null
        ? null
        : formatDuration(row.seconds)
      : row.right === null
        ? null
        : `${row.right} of ${row.inspected}${row.countOnly ? ' (count only)' : ''}`
  if (value === null) return '–'
  const said = row.predictions?.[kind] ?? null
  if (said === null || said.low === said.high) return value
  const verdict = kind === 'time' ? row.timeVerdict : row.qualityVerdict
  return `${value}, ${wordOf(verdict, kind)}`
}

function wordOf(verdict: Verdict | null, kind: 'time' | 'quality'): string {
  if (verdict === 'inside') return 'inside the range'
  if (kind === 'time') return verdict === 'better' ? 'quicker' : 'slower'
  return verdict === 'better' ? 'more' : 'fewer'
}

/** How each decision is called in the record. */
export const DECIDED = { adopt: 'Adopt', adapt: 'Adapt', abandon: 'Abandon' } as const
