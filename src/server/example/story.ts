import type { ExperimentFactor, ExperimentPlan } from '../../domain/experiment-record.ts'
import type {
  DateText,
  DecisionKind,
  Instant,
  Measure,
  Observation,
  Plan,
} from '../../domain/record.ts'

/** What the example tells of one project; ids and everything the record adds come when it is loaded. */
export interface ProjectStory {
  readonly unit: UnitKey
  readonly lead: number
  readonly name: string
  readonly aim: string
  readonly begun: DateText
  readonly measures: readonly MeasureStory[]
  /** In order; each builds on the one before unless it says otherwise. */
  readonly tests: readonly TestStory[]
  /** Several changes at once. */
  readonly experiments?: readonly ExperimentStory[]
}

export type UnitKey = 'hospital' | 'ward4' | 'ward7' | 'emergency' | 'classroom'

export interface MeasureStory
  extends Omit<Measure, 'id' | 'projectId' | 'unitId' | 'sameAsId' | 'version'> {
  readonly key: string
  /** The unit it is measured on; left out, the project's own. */
  readonly unit?: UnitKey
  /** Key of an earlier measure of the project that it repeats. */
  readonly sameAs?: string
  readonly observations: readonly ObservationStory[]
  readonly phases?: readonly {
    readonly startsAt: DateText | null
    readonly frozenThrough: DateText | null
    readonly reason: string
    /** Number of the test that explains it. */
    readonly test: number | null
  }[]
  readonly annotations?: readonly { readonly at: DateText; readonly text: string }[]
}

type ObservationStory = Partial<
  Pick<Observation, 'value' | 'numerator' | 'denominator' | 'note'>
> & { readonly at: DateText | Instant }

type Planned = Partial<Omit<Plan, 'stopMeasureId'>> & Pick<Plan, 'title' | 'question' | 'change'>

export interface TestStory {
  readonly plan: Planned
  /** Key of the balancing measure that the stop rule watches. */
  readonly stopMeasure?: string
  readonly startsRamp?: true
  readonly madeOn: DateText
  readonly predictions: readonly {
    readonly measure: string
    readonly expected: number
    readonly low: number
    readonly high: number
    readonly confidence?: number
    readonly why: string
  }[]
  /** Left out: still a plan. */
  readonly locked?: { readonly at: Instant; readonly by: number }
  readonly trials?: readonly {
    readonly at: Instant
    readonly note: string
    readonly values: Readonly<Record<string, Omit<ObservationStory, 'at'>>>
  }[]
  readonly addendum?: { readonly at: Instant; readonly text: string }
  readonly ran?: {
    readonly from: DateText
    readonly to: DateText | null
    readonly happened: string
    readonly wentWrong?: string
    readonly surprises?: string
    /** When Do was finished; left out: it runs. */
    readonly doneAt?: Instant
  }
  readonly study?: {
    readonly learned: string
    readonly predictionReview: string
    readonly at: Instant
  }
  readonly decision?: {
    readonly kind: DecisionKind
    readonly reason: string
    readonly nextChange?: string
    readonly differsBecause?: string
    readonly at: Instant
  }
}

/** A locked experiment, with some or all of its runs done. */
export interface ExperimentStory {
  readonly plan: Partial<Omit<ExperimentPlan, 'measureId' | 'stopMeasureId'>> &
    Pick<ExperimentPlan, 'title'>
  /** Key of the measure that the response belongs to. */
  readonly measure?: string
  readonly madeOn: DateText
  readonly factors: readonly Pick<ExperimentFactor, 'name' | 'low' | 'high' | 'expected' | 'why'>[]
  readonly locked: { readonly at: Instant; readonly by: number; readonly seed: number }
  readonly runs: {
    readonly first: Instant
    readonly minutesApart: number
    /** How many are done, from the first in the drawn order on. */
    readonly done: number
    /** By signs of the combination: one response a repeat. */
    readonly responses: Readonly<Record<string, readonly number[]>>
  }
  readonly learned: string
}

/** Invented staff, by their place in this list. None has an account. */
export const PEOPLE = [
  'Imogen Tarrant',
  'Davinder Oakes',
  'Leonie Quill',
  'Tobias Fenmoor',
  'Marisol Hythe',
  'Anselm Brackwater',
  'Yewande Sorrel',
].map((name) => `${name} (invented)`)

export const UNITS: readonly { readonly key: UnitKey; readonly name: string }[] = [
  { key: 'hospital', name: 'Saltmarsh Vale Hospital (invented)' },
  { key: 'ward4', name: 'Ward 4' },
  { key: 'ward7', name: 'Ward 7' },
  { key: 'emergency', name: 'Emergency Department' },
  { key: 'classroom', name: 'Improvement classroom' },
]
