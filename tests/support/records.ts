import type {
  Cycle,
  Decision,
  Measure,
  Observation,
  Phase,
  Prediction,
} from '../../src/domain/record.ts'

// Records for tests: whole and valid, each field replaceable.

export const measure = (own: Partial<Measure> = {}): Measure => ({
  id: 'M1',
  projectId: 'P1',
  name: 'Summaries sent within 24 hours',
  role: 'process',
  dataKind: 'classified',
  valueFormat: 'number',
  unitLabel: 'summaries',
  per: 1,
  better: 'up',
  operationalDefinition: '',
  collectionPlan: '',
  goal: null,
  chartKind: 'auto',
  ruleSet: 'auto',
  version: 1,
  ...own,
})

export const observation = (own: Partial<Observation> = {}): Observation => ({
  id: `O${own.at ?? ''}`,
  measureId: 'M1',
  cycleId: null,
  trialId: null,
  at: '2026-03-02',
  value: null,
  numerator: null,
  denominator: null,
  note: '',
  leftOutReason: null,
  version: 1,
  ...own,
})

export const phase = (own: Partial<Phase> = {}): Phase => ({
  id: 'F1',
  measureId: 'M1',
  startsAt: null,
  frozenThrough: null,
  reason: '',
  cycleId: null,
  version: 1,
  ...own,
})

/** A plan that is ready to lock. */
export const cycle = (own: Partial<Cycle> = {}): Cycle => ({
  id: 'C1',
  projectId: 'P1',
  rampId: 'C1',
  number: 1,
  buildsOnId: null,
  origin: 'own',
  createdAt: '2026-02-27T08:00:00.000Z',
  title: 'A named sender each shift',
  question: 'Does a named sender get summaries out within a day?',
  change: 'The nurse in charge names one sender a shift.',
  who: 'Two nurses',
  where: 'Ward 4',
  plannedFrom: '2026-03-02',
  plannedTo: '2026-03-15',
  howMany: 'All discharges',
  collection: 'The ward clerk counts every evening.',
  determination: 'improvement',
  approval: 'on-record',
  approvalNote: 'Improvement register, entry 12',
  couldHarm: 'no',
  stopRule: '',
  stopMeasureId: null,
  lockedAt: null,
  lockedById: null,
  ranFrom: null,
  ranTo: null,
  happened: '',
  wentWrong: '',
  surprises: '',
  doneAt: null,
  learned: '',
  predictionReview: '',
  studiedAt: null,
  version: 1,
  ...own,
})

export const prediction = (own: Partial<Prediction> = {}): Prediction => ({
  id: 'R1',
  cycleId: 'C1',
  measureId: 'M1',
  expected: 0.7,
  low: 0.6,
  high: 0.8,
  confidence: 0.8,
  why: 'Nobody owns the task today.',
  version: 1,
  ...own,
})

export const decision = (own: Partial<Decision> = {}): Decision => ({
  id: 'D1',
  cycleId: 'C1',
  kind: 'adapt',
  reason: 'Inside the range, on days only.',
  nextChange: 'The same on nights.',
  at: '2026-03-17T10:00:00.000Z',
  byId: 'A1',
  ...own,
})
