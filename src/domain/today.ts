import { stageOf } from './cycle.ts'
import type { Cycle, DateText, Decision, Instant } from './record.ts'

/** What a test of change waits for, if it waits for its team. */
export interface Waiting {
  readonly kind: 'lock' | 'collect' | 'study' | 'decide'
  readonly since: Instant
  /** One sentence: what waits and why. */
  readonly text: string
}

/**
 * What a test of change waits for today.
 *
 * A plan waits for its lock from the day it was made; a running test waits from the day after it
 * was to end (without one, it does not wait); then Study, then the decision.
 *
 * @param today Calendar date in the reader's time zone.
 * @returns `null` when nothing waits.
 */
export function waitingFor(
  cycle: Cycle,
  decision: Decision | null,
  today: DateText,
): Waiting | null {
  switch (stageOf(cycle, decision)) {
    case 'plan':
      return {
        kind: 'lock',
        since: cycle.createdAt,
        text: 'The plan is not locked: predict, then lock and start.',
      }
    case 'do': {
      const end = cycle.ranTo ?? cycle.plannedTo
      if (end === null || end >= today) return null
      return {
        kind: 'collect',
        since: `${end}T00:00:00.000Z`,
        text: `It was to run until ${end}. Record what happened, then finish Do.`,
      }
    }
    case 'study':
      return {
        kind: 'study',
        since: cycle.doneAt!,
        text: 'The test has run. Compare outcome and prediction, and write what was learned.',
      }
    case 'act':
      return {
        kind: 'decide',
        since: cycle.studiedAt!,
        text: 'The Study is written. Decide: adopt, adapt or abandon.',
      }
    case 'closed':
      return null
  }
}
