import type { ExperimentPlan, ResponseKind } from '../../domain/experiment-record.ts'

/** The names of a plan's fields, as labels and where two versions are compared. */
export const EXPERIMENT_LABELS: Readonly<Record<keyof ExperimentPlan | 'learned', string>> = {
  title: 'Title',
  question: 'Question',
  measureId: 'Measure',
  response: 'Response',
  responseKind: 'What one reading is',
  unitLabel: 'Unit',
  better: 'Which way is better?',
  conditions: 'Conditions kept the same',
  generators: 'Design',
  replicates: 'Repeats',
  centerPoints: 'Middle runs',
  guessedSd: 'Guess at chance alone',
  determination: 'Local determination',
  approval: 'Approval',
  approvalNote: 'Where it is recorded',
  couldHarm: 'Could it harm someone?',
  stopRule: 'Stop rule',
  stopMeasureId: 'Balancing measure watched',
  learned: 'What was learned',
}

export const RESPONSE_WORDS: Readonly<
  Record<ResponseKind, { readonly label: string; readonly hint: string }>
> = {
  number: { label: 'A number', hint: 'Items, steps, a score' },
  duration: { label: 'A time', hint: 'Typed as 1:02 or 62 s' },
  share: { label: 'A share', hint: 'In percent' },
}
