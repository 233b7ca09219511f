import { AppError } from '../errors.ts'
import { careIssues } from './care-issues.ts'
import type { Issue } from './issue.ts'
import {
  type Cycle,
  DECISIONS,
  type Decision,
  type DecisionKind,
  type Id,
  type Instant,
  type Measure,
  type Prediction,
} from './record.ts'
import type { Suggestion } from './suggestion.ts'

/** Where a test of change stands. `act`: studied, waits for its decision. */
export type Stage = 'plan' | 'do' | 'study' | 'act' | 'closed'

/**
 * Where a test of change stands, from what is recorded.
 *
 * @param cycle    The cycle as stored.
 * @param decision Its decision, or `null` while there is none.
 */
export function stageOf(cycle: Cycle, decision: Decision | null): Stage {
  if (decision !== null) return 'closed'
  if (cycle.lockedAt === null) return 'plan'
  if (cycle.doneAt === null) return 'do'
  return cycle.studiedAt === null ? 'study' : 'act'
}

/**
 * What still stands between a plan and "Lock and start"; empty when nothing does.
 *
 * Asked for: a question, a change, one whole prediction with its reason (METHODS 1: only 12 % of
 * published cycles carry one), and the answers on local approval and possible harm (METHODS 7).
 *
 * @param cycle       The cycle, not yet locked.
 * @param predictions Its predictions, one a measure.
 * @param measures    The project's measures.
 * @returns One issue a missing or contradictory thing, in the order of the page.
 */
export function readiness(
  cycle: Cycle,
  predictions: readonly Prediction[],
  measures: readonly Measure[],
): Issue[] {
  const issues: Issue[] = []
  const ask = (code: string, field: string, message: string) =>
    issues.push({ code: `cycle.${code}`, field, message })

  if (blank(cycle.question)) ask('no_question', 'question', 'Write the question this test answers.')
  if (blank(cycle.change)) ask('no_change', 'change', 'Say what will be changed.')
  if (cycle.plannedFrom !== null && cycle.plannedTo !== null && cycle.plannedTo < cycle.plannedFrom)
    ask('dates_reversed', 'plannedTo', 'The last day is before the first day.')

  if (predictions.length === 0)
    ask('no_prediction', 'predictions', 'Predict at least one measure: expected value and range.')
  for (const p of predictions) issues.push(...predictionIssues(p, measures))

  issues.push(...careIssues(cycle, measures))
  return issues
}

function predictionIssues(p: Prediction, measures: readonly Measure[]): Issue[] {
  const measure = measures.find((m) => m.id === p.measureId)
  const name = measure?.name ?? 'a measure that is gone'
  const issue = (code: string, part: string, message: string): Issue => ({
    code: `cycle.${code}`,
    field: `prediction:${p.id}:${part}`,
    message,
  })
  const { expected, low, high } = p
  if (expected === null) return [issue('no_expected', 'expected', `Predict a value for ${name}.`)]
  if (low === null || high === null) {
    const part = low === null ? 'low' : 'high'
    return [issue('no_range', part, `Give the range you expect for ${name}, from low to high.`)]
  }
  const issues: Issue[] = []
  if (low > high || expected < low || expected > high)
    issues.push(
      issue('range_order', 'low', `For ${name}, low, expected and high must be in rising order.`),
    )
  if (measure?.dataKind === 'classified' && (low < 0 || high > 1))
    issues.push(issue('range_share', 'high', `${name} is a share: predict from 0 % to 100 %.`))
  else if (measure !== undefined && measure.dataKind !== 'single' && low < 0)
    issues.push(issue('range_negative', 'low', `${name} cannot be below zero.`))
  if (!(p.confidence > 0 && p.confidence < 1))
    issues.push(
      issue('confidence', 'confidence', `Give a confidence for ${name} between 1 % and 99 %.`),
    )
  if (blank(p.why)) issues.push(issue('no_why', 'why', `Say why you expect this of ${name}.`))
  return issues
}

/**
 * Lock and start: plan and predictions are frozen from here on.
 *
 * @param at       Moment of the lock. Passed in: the domain never reads the clock.
 * @returns The locked cycle, which runs from the planned day (or the day of the lock).
 * @throws AppError `cycle.locked` when it is locked already; `cycle.not_ready` with every open
 *   `issues` in its details.
 */
export function lock(
  cycle: Cycle,
  predictions: readonly Prediction[],
  measures: readonly Measure[],
  byId: Id,
  at: Instant,
): Cycle {
  mustBeUnlocked(cycle)
  const issues = readiness(cycle, predictions, measures)
  if (issues.length > 0)
    throw new AppError(
      'cycle.not_ready',
      `${issues.length} ${issues.length === 1 ? 'thing is' : 'things are'} missing before this test can be locked.`,
      issues[0]!.message,
      { cycleId: cycle.id, issues },
    )
  return {
    ...cycle,
    lockedAt: at,
    lockedById: byId,
    ranFrom: cycle.ranFrom ?? cycle.plannedFrom ?? at.slice(0, 10),
  }
}

/** @throws AppError `cycle.locked` when the plan can no longer be edited. */
export function mustBeUnlocked(cycle: Cycle): void {
  if (cycle.lockedAt === null) return
  throw new AppError(
    'cycle.locked',
    `Test ${cycle.number} was locked on ${cycle.lockedAt.slice(0, 10)}; its plan and predictions stay as they are.`,
    'Add a note beside it, or plan the next test.',
    { cycleId: cycle.id },
  )
}

/** @throws AppError `cycle.not_locked` while the test has not started. */
export function mustBeRunning(cycle: Cycle, decision: Decision | null): void {
  if (cycle.lockedAt === null)
    throw new AppError(
      'cycle.not_locked',
      'This test has not started.',
      'Lock the plan first, so that the prediction stands before the data.',
      { cycleId: cycle.id },
    )
  mustBeOpen(cycle, decision)
}

/** @throws AppError `cycle.closed` once the decision is recorded. */
export function mustBeOpen(cycle: Cycle, decision: Decision | null): void {
  if (decision === null) return
  throw new AppError(
    'cycle.closed',
    `Test ${cycle.number} was closed on ${decision.at.slice(0, 10)} (${decision.kind}).`,
    'Add a note beside it, or start a new test to try again.',
    { cycleId: cycle.id },
  )
}

/**
 * Do is over; Study can begin.
 *
 * @param observed How many observations of this test its predicted measures have.
 * @throws AppError `cycle.not_locked`, `cycle.closed`; `cycle.no_outcome` when nothing was observed;
 *   `cycle.dates_reversed` when it ended before it began.
 */
export function finishDo(
  cycle: Cycle,
  decision: Decision | null,
  observed: number,
  at: Instant,
): Cycle {
  mustBeRunning(cycle, decision)
  if (observed === 0)
    throw new AppError(
      'cycle.no_outcome',
      'No predicted measure has an observation from this test yet.',
      'Record an observation or a trial, or correct the days the test ran.',
      { cycleId: cycle.id },
    )
  const ranTo = cycle.ranTo ?? cycle.plannedTo ?? at.slice(0, 10)
  const ranFrom = cycle.ranFrom ?? at.slice(0, 10)
  if (ranTo < ranFrom)
    throw new AppError(
      'cycle.dates_reversed',
      `The test cannot end on ${ranTo} when it began on ${ranFrom}.`,
      'Correct the days it really ran.',
      { cycleId: cycle.id },
    )
  return { ...cycle, ranFrom, ranTo, doneAt: cycle.doneAt ?? at }
}

/**
 * Study is written: what was learned, and whether the prediction was right.
 *
 * @throws AppError `cycle.not_done` while Do is open; `cycle.closed`; `cycle.no_learning` when a
 *   text is blank.
 */
export function finishStudy(cycle: Cycle, decision: Decision | null, at: Instant): Cycle {
  mustBeRunning(cycle, decision)
  if (cycle.doneAt === null)
    throw new AppError(
      'cycle.not_done',
      'This test is still running.',
      'Finish Do first; Study is written after the fact.',
      { cycleId: cycle.id },
    )
  if (blank(cycle.learned) || blank(cycle.predictionReview))
    throw new AppError(
      'cycle.no_learning',
      blank(cycle.learned)
        ? 'Study does not say yet what was learned.'
        : 'Study does not say yet whether the prediction was right, and why or why not.',
      'Write a sentence; "we cannot tell yet, because …" is a finding too.',
      { cycleId: cycle.id, field: blank(cycle.learned) ? 'learned' : 'predictionReview' },
    )
  return { ...cycle, studiedAt: cycle.studiedAt ?? at }
}

/**
 * Close a test by recording what the team does next.
 *
 * @param given The decision: `reason` not blank; `nextChange` not blank where it is `adapt`;
 *   `differsBecause` may stay empty, and is kept only where the figures suggested something else.
 * @param suggestion What the figures suggest now, kept beside the decision; `null`: not worked out.
 * @returns The decision, trimmed.
 * @throws AppError `cycle.not_studied`, `cycle.closed`, `cycle.unknown_decision`,
 *   `cycle.blank_reason`, `cycle.blank_next_change`.
 */
export function decide(
  cycle: Cycle,
  earlier: Decision | null,
  given: {
    id: Id
    kind: DecisionKind
    reason: string
    nextChange: string
    differsBecause?: string | undefined
  },
  byId: Id,
  at: Instant,
  suggestion: Suggestion | null = null,
): Decision {
  const details = { cycleId: cycle.id }
  mustBeOpen(cycle, earlier)
  if (cycle.studiedAt === null)
    throw new AppError(
      'cycle.not_studied',
      'This test has no Study yet.',
      'Compare the outcome with the prediction and save the Study, then decide.',
      details,
    )
  if (!DECISIONS.includes(given.kind))
    throw new AppError(
      'cycle.unknown_decision',
      `"${given.kind}" is not a decision.`,
      'Choose adopt, adapt or abandon.',
      details,
    )
  if (blank(given.reason))
    throw new AppError(
      'cycle.blank_reason',
      'A decision needs a reason.',
      'Say how the outcome compared with the prediction.',
      details,
    )
  if (given.kind === 'adapt' && blank(given.nextChange))
    throw new AppError(
      'cycle.blank_next_change',
      'Adapt needs the next change.',
      'Say what the next test will do differently.',
      details,
    )
  return {
    id: given.id,
    cycleId: cycle.id,
    kind: given.kind,
    reason: given.reason.trim(),
    nextChange: given.nextChange.trim(),
    suggestedKind: suggestion?.kind ?? null,
    suggestedReasons: suggestion === null ? null : suggestion.reasons.map(oneLine).join('\n'),
    differsBecause:
      suggestion === null
        ? null
        : suggestion.kind === given.kind
          ? ''
          : (given.differsBecause ?? '').trim(),
    at,
    byId,
  }
}

/** A name can hold a line break; a reason is one line. */
const oneLine = (text: string) => text.replace(/\s+/g, ' ').trim()

const blank = (text: string) => text.trim() === ''
