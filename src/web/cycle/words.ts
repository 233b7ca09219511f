import { stageOf } from '../../domain/cycle.ts'
import type {
  Approval,
  Belief,
  Cycle,
  Decision,
  DecisionKind,
  Determination,
  FailureCost,
  Measure,
  Plan,
  Readiness,
  SuggestionKind,
} from '../../domain/record.ts'

/** The names of a plan's fields, as labels and in lists of differences. */
/** What the figures suggest, as the team reads it. */
export const SUGGESTION_WORDS: Readonly<Record<SuggestionKind, string>> = {
  adopt: 'Adopt',
  adapt: 'Adapt',
  abandon: 'Abandon',
  'keep-collecting': 'Keep collecting before deciding',
}

export const PLAN_LABELS: Readonly<Record<keyof Plan, string>> = {
  title: 'Title',
  question: 'Question',
  change: 'Change',
  who: 'Who',
  where: 'Where',
  plannedFrom: 'First day',
  plannedTo: 'Last day',
  howMany: 'How many',
  collection: 'What will be collected',
  belief: 'Belief that it works here',
  failureCost: 'Cost if it fails',
  readiness: 'Readiness of those affected',
  determination: 'Local determination',
  approval: 'Approval',
  approvalNote: 'Where it is recorded',
  couldHarm: 'Could it harm someone?',
  stopRule: 'Stop rule',
  stopMeasureId: 'Balancing measure watched',
}

export const DETERMINATIONS: Readonly<Record<Determination, string>> = {
  improvement: 'Quality improvement',
  research: 'Research',
  exercise: 'An exercise without patients',
}

export const BELIEF_WORDS: Readonly<Record<Belief, string>> = {
  low: 'Not sure yet',
  high: 'Fairly sure',
}
export const COST_WORDS: Readonly<Record<FailureCost, string>> = {
  small: 'Little',
  large: 'Much',
}
export const READINESS_WORDS: Readonly<Record<Readiness, string>> = {
  resistant: 'Against it',
  indifferent: 'Neither for nor against',
  ready: 'Ready for it',
}

export const APPROVALS: Readonly<Record<Approval, string>> = {
  'on-record': 'On record',
  'not-needed': 'Not needed under local policy',
  'not-yet': 'Not on record yet',
}

export const DECISION_WORDS: Readonly<Record<DecisionKind, string>> = {
  adopt: 'adopted',
  adapt: 'adapted',
  abandon: 'abandoned',
}

/** A value of the plan as text, for reading and for "was: …". */
export function planText(
  field: keyof Plan,
  value: string | null,
  measures: readonly Measure[],
  showDate: (at: string) => string,
): string {
  if (value === null || value.trim() === '') return 'nothing'
  switch (field) {
    case 'plannedFrom':
    case 'plannedTo':
      return showDate(value)
    case 'determination':
      return DETERMINATIONS[value as Determination] ?? value
    case 'approval':
      return APPROVALS[value as Approval] ?? value
    case 'belief':
      return BELIEF_WORDS[value as Belief] ?? value
    case 'failureCost':
      return COST_WORDS[value as FailureCost] ?? value
    case 'readiness':
      return READINESS_WORDS[value as Readiness] ?? value
    case 'couldHarm':
      return value === 'yes' ? 'Yes' : 'No'
    case 'stopMeasureId':
      return measures.find((m) => m.id === value)?.name ?? 'a measure that is gone'
    default:
      return value
  }
}

/** One sentence on where a test of change stands. */
export function standing(
  cycle: Cycle,
  decision: Decision | null,
  showDate: (at: string) => string,
): string {
  switch (stageOf(cycle, decision)) {
    case 'plan':
      return 'Being planned. Nothing is locked yet.'
    case 'do':
      return `Locked on ${showDate(cycle.lockedAt!)} and running.`
    case 'study':
      return `Ran to ${showDate(cycle.ranTo ?? cycle.doneAt!)}. Study waits to be written.`
    case 'act':
      return `Studied on ${showDate(cycle.studiedAt!)}. The decision is open.`
    case 'closed':
      return `Closed on ${showDate(decision!.at)}: ${DECISION_WORDS[decision!.kind]}.`
  }
}
