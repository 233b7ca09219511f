import type { CycleBrief } from '../../api/contract.ts'
import type { DateText, Id } from '../../domain/record.ts'
import type { Analysis } from '../../stats/types.ts'
import { formatDate } from '../lib/dates.ts'

export interface ProposedPhase {
  readonly startsAt: DateText
  readonly cycleId: Id
  readonly text: string
}

/** Signals of a level that has moved and stayed. */
const SUSTAINED: ReadonlySet<string> = new Set(['shift', 'longest-run'])

/**
 * Where a new phase could begin: a sustained signal in the last phase that still holds at its end,
 * and a test of change that began shortly before it (METHODS 3). A person decides.
 *
 * @returns `null` where either is missing.
 */
export function proposedPhase(
  analysis: Analysis,
  tests: readonly CycleBrief[],
): ProposedPhase | null {
  const last = analysis.phases.length - 1
  const lastPoint = analysis.points.findLastIndex((p) => p.value !== null && p.leftOut === null)
  const signal = analysis.signals.find(
    ({ rule, points, direction }) =>
      SUSTAINED.has(rule) &&
      direction !== null &&
      points.at(-1) === lastPoint &&
      analysis.points[points[0]!]!.phase === last,
  )
  if (signal === undefined) return null
  const startsAt = analysis.points[signal.points[0]!]!.at.slice(0, 10)
  const phaseFrom = analysis.phases[last]!.from.slice(0, 10)
  if (startsAt <= phaseFrom) return null
  const test = tests
    .filter(({ cycle }) => {
      const began = cycle.ranFrom
      return began !== null && began <= startsAt && began > phaseFrom
    })
    .sort((a, b) => (a.cycle.ranFrom! < b.cycle.ranFrom! ? 1 : -1))[0]
  if (test === undefined) return null
  const side = signal.direction === 'up' ? 'above' : 'below'
  return {
    startsAt,
    cycleId: test.cycle.id,
    text: `${signal.points.length} points in a row lie ${side} the centre, from ${formatDate(startsAt)} to the latest one, and test ${test.cycle.number} began on ${formatDate(test.cycle.ranFrom!)}. If the team holds that test ${test.cycle.number} explains it, a phase can begin there.`,
  }
}
