import type {
  Addendum,
  Annotation,
  Cycle,
  Decision,
  Id,
  Instant,
  Measure,
  Observation,
  Person,
  Phase,
  Prediction,
  Project,
  RampNote,
  Trial,
  Unit,
} from '../domain/record.ts'

/** A signed-in browser. The token itself is only in its cookie; here is its SHA-256. */
interface Session {
  readonly id: Id
  readonly personId: Id
  readonly tokenHash: string
  readonly createdAt: Instant
  readonly expiresAt: Instant
}

/** A person with what signing in needs; never leaves the server. */
export type Account = Person & { readonly passwordHash: string | null }

/** One write, chained by its hash to the one before. See journal.ts for the hashed text. */
export interface JournalRow {
  /** 1, 2, 3 … without a gap. */
  readonly seq: number
  readonly at: Instant
  /** `null`: done by the program itself. */
  readonly personId: Id | null
  readonly personName: string
  readonly action: string
  /** JSON: a list of `RowChange`. */
  readonly changes: string
  readonly prevHash: string
  readonly hash: string
}

/** Every table whose rows are written through `record`. */
export interface RecordTables {
  unit: Unit
  person: Account
  session: Session
  project: Project
  measure: Measure
  cycle: Cycle
  prediction: Prediction
  addendum: Addendum
  trial: Trial
  decision: Decision
  phase: Phase
  annotation: Annotation
  observation: Observation
  rampNote: RampNote
}

export interface Schema extends RecordTables {
  journal: JournalRow
}

export type TableName = keyof RecordTables

type ColumnsOf<T> = readonly (keyof T & string)[]

/** Columns of every table, parents before children: the order in which whole tables are copied. */
export const COLUMNS = {
  unit: ['id', 'parentId', 'name', 'origin', 'version'],
  person: ['id', 'name', 'email', 'role', 'passwordHash', 'closedAt', 'origin', 'version'],
  session: ['id', 'personId', 'tokenHash', 'createdAt', 'expiresAt'],
  project: ['id', 'unitId', 'name', 'aim', 'leadId', 'origin', 'createdAt', 'version'],
  measure: [
    'id',
    'projectId',
    'name',
    'role',
    'dataKind',
    'valueFormat',
    'unitLabel',
    'per',
    'better',
    'operationalDefinition',
    'collectionPlan',
    'goal',
    'chartKind',
    'ruleSet',
    'version',
  ],
  cycle: [
    'id',
    'projectId',
    'rampId',
    'number',
    'buildsOnId',
    'origin',
    'createdAt',
    'title',
    'question',
    'change',
    'who',
    'where',
    'plannedFrom',
    'plannedTo',
    'howMany',
    'collection',
    'belief',
    'failureCost',
    'readiness',
    'determination',
    'approval',
    'approvalNote',
    'couldHarm',
    'stopRule',
    'stopMeasureId',
    'lockedAt',
    'lockedById',
    'ranFrom',
    'ranTo',
    'happened',
    'wentWrong',
    'surprises',
    'doneAt',
    'learned',
    'predictionReview',
    'studiedAt',
    'version',
  ],
  prediction: [
    'id',
    'cycleId',
    'measureId',
    'expected',
    'low',
    'high',
    'confidence',
    'why',
    'version',
  ],
  addendum: ['id', 'cycleId', 'predictionId', 'text', 'at', 'byId'],
  trial: ['id', 'cycleId', 'number', 'at', 'byId', 'note', 'voidReason', 'version'],
  decision: [
    'id',
    'cycleId',
    'kind',
    'reason',
    'nextChange',
    'suggestedKind',
    'suggestedReasons',
    'differsBecause',
    'at',
    'byId',
  ],
  phase: ['id', 'measureId', 'startsAt', 'frozenThrough', 'reason', 'cycleId', 'version'],
  annotation: ['id', 'measureId', 'at', 'text', 'version'],
  observation: [
    'id',
    'measureId',
    'cycleId',
    'trialId',
    'at',
    'value',
    'numerator',
    'denominator',
    'note',
    'leftOutReason',
    'version',
  ],
  rampNote: ['id', 'projectId', 'rampId', 'text', 'version'],
} as const satisfies { readonly [T in TableName]: ColumnsOf<RecordTables[T]> }

/** A column that a type has and `COLUMNS` lacks would be lost on the way: the compiler says which. */
type Forgotten = {
  [T in TableName]: Exclude<keyof RecordTables[T] & string, (typeof COLUMNS)[T][number]>
}[TableName]
const nothingForgotten: [Forgotten] extends [never] ? true : Forgotten = true
void nothingForgotten

export const TABLE_NAMES = Object.keys(COLUMNS) as TableName[]

export const JOURNAL_COLUMNS = [
  'seq',
  'at',
  'personId',
  'personName',
  'action',
  'changes',
  'prevHash',
  'hash',
] as const satisfies ColumnsOf<JournalRow>

/** Columns whose values never enter the journal; a digest stands in for them. */
export const SECRET_COLUMNS: ReadonlySet<string> = new Set(['passwordHash', 'tokenHash'])
