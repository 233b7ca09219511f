import type { CycleBrief } from '../../api/contract.ts'
import type { Id } from '../../domain/record.ts'

/** A chain of tests of one idea. */
export interface RampOfTests {
  readonly id: Id
  /** In order of number. */
  readonly tests: readonly CycleBrief[]
}

/** The tests of a project by chain; the chain with the newest test first. */
export function rampsOf(cycles: readonly CycleBrief[]): RampOfTests[] {
  const chains = new Map<Id, CycleBrief[]>()
  for (const brief of [...cycles].sort((a, b) => a.cycle.number - b.cycle.number)) {
    const chain = chains.get(brief.cycle.rampId) ?? []
    chains.set(brief.cycle.rampId, [...chain, brief])
  }
  const newest = (ramp: RampOfTests) => ramp.tests.at(-1)?.cycle.number ?? 0
  return [...chains].map(([id, tests]) => ({ id, tests })).sort((a, b) => newest(b) - newest(a))
}

/** The measure most of a chain's tests predict; the first one predicted where several tie. */
export function rampMeasure(tests: readonly CycleBrief[]): Id | null {
  const counts = new Map<Id, number>()
  for (const { predictions } of tests) {
    for (const { measureId } of predictions) {
      counts.set(measureId, (counts.get(measureId) ?? 0) + 1)
    }
  }
  let best: Id | null = null
  for (const [id, count] of counts) {
    if (best === null || count > (counts.get(best) ?? 0)) best = id
  }
  return best
}
