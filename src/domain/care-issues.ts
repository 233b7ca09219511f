import type { Issue } from './issue.ts'
import type { Measure, Plan } from './record.ts'

/** What a plan says of local approval and of harm. */
export type CarePlan = Pick<
  Plan,
  'determination' | 'approval' | 'approvalNote' | 'couldHarm' | 'stopRule' | 'stopMeasureId'
>

/**
 * What a plan does not say yet about local approval and possible harm (METHODS 7).
 *
 * @param plan     The answers so far.
 * @param measures The project's measures; a stop rule watches a balancing one.
 * @returns One issue a missing answer, in the order of the page.
 */
export function careIssues(plan: CarePlan, measures: readonly Measure[]): Issue[] {
  const issues: Issue[] = []
  const ask = (code: string, field: string, message: string) =>
    issues.push({ code: `cycle.${code}`, field, message })
  if (plan.determination === null)
    ask(
      'no_determination',
      'determination',
      'Say what your local policy calls this: improvement, research, or an exercise without patients.',
    )
  else if (plan.determination !== 'exercise') {
    if (plan.approval === null)
      ask('no_approval', 'approval', 'Say whether the local approval is on record.')
    else if (plan.approval === 'not-yet')
      ask(
        'approval_missing',
        'approval',
        'Local approval is not on record yet. Record it first; local policy decides, not Pawl.',
      )
    else if (blank(plan.approvalNote))
      ask(
        'no_approval_note',
        'approvalNote',
        plan.approval === 'on-record'
          ? 'Say where the approval is recorded.'
          : 'Say which local policy asks for no approval.',
      )
  }

  if (plan.couldHarm === null)
    ask('no_harm_answer', 'couldHarm', 'Say whether this test could harm someone.')
  if (plan.couldHarm === 'yes') {
    if (blank(plan.stopRule))
      ask('no_stop_rule', 'stopRule', 'Write the rule for stopping the test at once.')
    const watched = measures.find((m) => m.id === plan.stopMeasureId)
    if (watched === undefined || watched.role !== 'balancing')
      ask(
        'no_stop_measure',
        'stopMeasureId',
        'Name the balancing measure the stop rule watches; add one to the project if there is none.',
      )
  }
  return issues
}

const blank = (text: string) => text.trim() === ''
