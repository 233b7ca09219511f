import type { CycleBrief } from '../../api/contract.ts'
import type { Id } from '../../domain/record.ts'

/** The tests of one chain, each with the one it builds on, in order of number. */
export function rampOf(siblings: readonly CycleBrief[], rampId: Id): CycleBrief[] {
  return siblings
    .filter((test) => test.cycle.rampId === rampId)
    .sort((a, b) => a.cycle.number - b.cycle.number)
}

export interface Neighbours {
  readonly before: CycleBrief | null
  /** Usually one; more where the chain branches. */
  readonly after: readonly CycleBrief[]
}

/** The test one builds on, and those that build on it. */
export function neighboursOf(siblings: readonly CycleBrief[], cycleId: Id): Neighbours {
  const own = siblings.find((test) => test.cycle.id === cycleId)
  return {
    before: siblings.find((test) => test.cycle.id === own?.cycle.buildsOnId) ?? null,
    after: siblings
      .filter((test) => test.cycle.buildsOnId === cycleId)
      .sort((a, b) => a.cycle.number - b.cycle.number),
  }
}

/** Whether a test is a side branch: another test builds on the same one and came earlier. */
export function isBranch(siblings: readonly CycleBrief[], test: CycleBrief): boolean {
  return siblings.some(
    (other) =>
      other.cycle.buildsOnId !== null &&
      other.cycle.buildsOnId === test.cycle.buildsOnId &&
      other.cycle.number < test.cycle.number,
  )
}
