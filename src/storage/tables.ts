import type { Experiment, ExperimentFactor, ExperimentRun } from '../domain/experiment-record.ts'
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
import type {
  Inspection,
  OwnKit,
  Reading,
  Room,
  RoomMove,
  RoomSeat,
  RoomTable,
} from '../domain/workshop/room.ts'

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
  kit: OwnKit
  room: Room
  roomTable: RoomTable
  roomSeat: RoomSeat
  roomMove: RoomMove
  reading: Reading
  inspection: Inspection
  experiment: Experiment
  experimentFactor: ExperimentFactor
  experimentRun: ExperimentRun
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
    'unitId',
    'sameAsId',
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
  kit: ['id', 'kit', 'createdById', 'version'],
  room: [
    'id',
    'code',
    'name',
    'unitId',
    'facilitatorId',
    'kit',
    'settings',
    'moment',
    'round',
    'countdown',
    'talkingPoint',
    'notes',
    'openedAt',
    'closedAt',
    'version',
  ],
  roomTable: [
    'id',
    'roomId',
    'projectId',
    'timeMeasureId',
    'qualityMeasureId',
    'name',
    'place',
    'firstRound',
    'excused',
    'nudge',
    'nudgedAt',
    'removedAt',
    'joinNumber',
    'version',
  ],
  roomSeat: [
    'id',
    'roomId',
    'tableId',
    'name',
    'roles',
    'tokenHash',
    'confidenceBefore',
    'confidenceAfter',
    'joinedAt',
    'removedAt',
    'version',
  ],
  roomMove: [
    'id',
    'roomId',
    'tableId',
    'seatId',
    'kind',
    'at',
    'receivedAt',
    'calledTrialId',
    'trialId',
  ],
  reading: ['id', 'trialId', 'seatId', 'by', 'seconds', 'how', 'note', 'kept', 'version'],
  inspection: ['id', 'trialId', 'seatId', 'by', 'marks', 'rightCount', 'at', 'version'],
  experiment: [
    'id',
    'projectId',
    'origin',
    'createdAt',
    'title',
    'question',
    'measureId',
    'response',
    'responseKind',
    'unitLabel',
    'better',
    'conditions',
    'generators',
    'replicates',
    'centerPoints',
    'guessedSd',
    'determination',
    'approval',
    'approvalNote',
    'couldHarm',
    'stopRule',
    'stopMeasureId',
    'lockedAt',
    'lockedById',
    'seed',
    'learned',
    'version',
  ],
  experimentFactor: [
    'id',
    'experimentId',
    'position',
    'name',
    'low',
    'high',
    'middle',
    'expected',
    'why',
    'version',
  ],
  experimentRun: [
    'id',
    'experimentId',
    'position',
    'levels',
    'response',
    'at',
    'byId',
    'note',
    'leftOutReason',
    'version',
  ],
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
