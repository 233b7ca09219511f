/**
 * Every route: its method and path, who may use it (`seat`: a phone or screen of that room, or a
 * coach), what it takes and what it answers.
 * The server implements exactly these, the browser calls exactly these; both are checked against
 * this file by the compiler. Types only.
 *
 * Errors answer `ErrorReply`. Writes carry the `x-pawl-csrf` header with the token that
 * `GET /api/session` gave. A write whose free text looks like a patient's identifier is refused with
 * 422 `care.looks_like_identifier` until it is repeated with the header `x-pawl-text-checked: yes`.
 */

import type {
  Experiment,
  ExperimentFactor,
  ExperimentPlan,
  ExperimentRun,
} from '../domain/experiment-record.ts'
import type {
  Addendum,
  Annotation,
  Cycle,
  Decision,
  DecisionKind,
  Id,
  Instant,
  Measure,
  Observation,
  Person,
  Phase,
  Plan,
  Prediction,
  Project,
  RampNote,
  Role,
  Trial,
  Unit,
} from '../domain/record.ts'
import type { Kit } from '../domain/workshop/kit.ts'
import type { Move, MoveResult } from '../domain/workshop/moves.ts'
import type { RoomSettings } from '../domain/workshop/room.ts'
import type { RoomState } from '../domain/workshop/room-state.ts'
import type { ExperimentBrief, ExperimentReply, ExperimentsReply } from './experiment-contract.ts'
import type { ByUnitReply, CalibrationReply, FindingsReply } from './finding-contract.ts'
import type { ImportPreview, ImportRequest } from './import-contract.ts'
import type {
  FoundRoom,
  JoinRequest,
  KitReply,
  NewRoom,
  RoomBrief,
  RoomCalibrationReply,
} from './workshop-contract.ts'

export interface ErrorReply {
  readonly code: string
  readonly message: string
  readonly hint: string
  /** `record.stale`: `{ current, yours }`, both as the record. Lists of issues: `{ issues }`. */
  readonly details: Readonly<Record<string, unknown>>
}

export interface Me {
  readonly id: Id
  readonly name: string
  readonly email: string
  readonly role: Role
}

export interface SessionReply {
  readonly me: Me | null
  /** `true` until the owner account exists. */
  readonly needsOwner: boolean
  /** Send it back in `x-pawl-csrf` with every write. */
  readonly csrf: string
  readonly example: 'absent' | 'present'
  readonly version: string
}

/** The saved version the change was made on; a newer one on the server refuses the save. */
export interface OnVersion {
  readonly version: number
}
/** Fields to change; those left out stay. */
export type Change<T> = OnVersion & Partial<Omit<T, 'id' | 'version' | 'origin' | 'createdAt'>>

export type NewUnit = Pick<Unit, 'id' | 'name' | 'parentId'>
export type NewProject = Pick<Project, 'id' | 'unitId' | 'name' | 'aim'>
/** Where the unit and the measure it repeats are left out, it is the project's own and repeats none. */
export type NewMeasure = Omit<Measure, 'version' | 'unitId' | 'sameAsId'> &
  Partial<Pick<Measure, 'unitId' | 'sameAsId'>>
export type NewPhase = Omit<Phase, 'version'>
export type NewAnnotation = Omit<Annotation, 'version'>
export interface NewPerson {
  readonly id: Id
  readonly name: string
  readonly email: string
  readonly role: Role
  readonly password: string
}
export interface NewCycle {
  readonly id: Id
  readonly projectId: Id
  readonly title: string
  /** Builds on this test: its plan and predictions are carried over. */
  readonly buildsOnId: Id | null
}
export type NewPrediction = Omit<Prediction, 'version' | 'cycleId'>
export type DoFields = Pick<Cycle, 'ranFrom' | 'ranTo' | 'happened' | 'wentWrong' | 'surprises'>
export type StudyFields = Pick<Cycle, 'learned' | 'predictionReview'>
/** Rows without `version` are new; with one they replace that version. */
export type SaveObservation = Omit<Observation, 'measureId' | 'version'> & {
  readonly version?: number
}

/** A test of change as charts and lists show it. */
export interface CycleBrief {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
  readonly decision: Decision | null
}

export interface MeasureData {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
  readonly annotations: readonly Annotation[]
}

export interface UnitsReply {
  readonly units: readonly Unit[]
  readonly projects: readonly Project[]
}

export interface ProjectReply {
  readonly unit: Unit
  readonly project: Project
  /** With their data, so the project page can draw a small chart of each. */
  readonly measures: readonly MeasureData[]
  /** Every unit that a measure is taken on, and the project's own. */
  readonly units: readonly Unit[]
  readonly cycles: readonly CycleBrief[]
  /** At most one a chain. */
  readonly rampNotes: readonly RampNote[]
  readonly people: readonly Person[]
}

export interface MeasureReply extends MeasureData {
  readonly unit: Unit
  readonly project: Project
  /** The same measure on each of its units, this one included; empty where it has one unit only. */
  readonly family: readonly Measure[]
  /** Every unit that one of these is taken on, and the project's own. */
  readonly units: readonly Unit[]
  /** Tests of change that predict this measure, in order of number. */
  readonly cycles: readonly CycleBrief[]
}

export interface CycleReply extends CycleBrief {
  readonly unit: Unit
  readonly project: Project
  readonly addenda: readonly Addendum[]
  readonly trials: readonly Trial[]
  /** Every measure of the project, with its data. */
  readonly measures: readonly MeasureData[]
  /** Every test of the project, this one included, in order of number. */
  readonly siblings: readonly CycleBrief[]
  readonly people: readonly Pick<Person, 'id' | 'name'>[]
}

/** One thing that waits for somebody. */
export interface TodayItem {
  readonly kind: 'lock' | 'collect' | 'study' | 'decide' | 'signal'
  readonly since: Instant
  /** What waits: one of these three. */
  readonly cycleId: Id | null
  readonly measureId: Id | null
  readonly experimentId: Id | null
  /** Title of the test or experiment, or name of the measure. */
  readonly name: string
  readonly projectId: Id
  readonly projectName: string
  readonly unitName: string
  /** One sentence: what waits and why. */
  readonly text: string
}

export interface Routes {
  'GET /api/session': { role: 'public'; reply: SessionReply }
  /** Creates the owner account; refused once one exists. Signs in. */
  'POST /api/owner': {
    role: 'public'
    body: { name: string; email: string; password: string }
    reply: SessionReply
  }
  /** Signs in. */
  'POST /api/session': {
    role: 'public'
    body: { email: string; password: string }
    reply: SessionReply
  }
  'DELETE /api/session': { role: 'viewer'; reply: SessionReply }
  'POST /api/password': {
    role: 'viewer'
    body: { current: string; next: string }
    reply: SessionReply
  }

  'GET /api/today': { role: 'viewer'; reply: { items: TodayItem[] } }
  'GET /api/calibration/organisation': { role: 'viewer'; reply: CalibrationReply }
  /** With every unit in it. */
  'GET /api/calibration/units/:id': { role: 'viewer'; reply: CalibrationReply }
  'GET /api/calibration/projects/:id': { role: 'viewer'; reply: CalibrationReply }
  /** Tests that this person locked. 403 `calibration.private` but for themselves, coaches and owners. */
  'GET /api/calibration/people/:id': { role: 'viewer'; reply: CalibrationReply }
  /** Below coach only once its workshop is closed: 403 `room.still_open`. */
  'GET /api/calibration/tables/:id': { role: 'viewer'; reply: RoomCalibrationReply }
  'GET /api/calibration/workshops/:id': { role: 'viewer'; reply: RoomCalibrationReply }
  'POST /api/example': { role: 'owner'; reply: { projectId: Id } }
  'DELETE /api/example': { role: 'owner'; reply: { removed: number } }

  'GET /api/people': { role: 'viewer'; reply: { people: Person[] } }
  'POST /api/people': { role: 'owner'; body: NewPerson; reply: Person }
  'PATCH /api/people/:id': {
    role: 'owner'
    body: Change<Person> & { password?: string }
    reply: Person
  }

  'GET /api/units': { role: 'viewer'; reply: UnitsReply }
  'POST /api/units': { role: 'coach'; body: NewUnit; reply: Unit }
  'PATCH /api/units/:id': { role: 'coach'; body: Change<Unit>; reply: Unit }
  /** Only an empty unit. */
  'DELETE /api/units/:id': { role: 'coach'; body: OnVersion; reply: { removed: number } }

  'POST /api/projects': { role: 'member'; body: NewProject; reply: Project }
  'GET /api/projects/:id': { role: 'viewer'; reply: ProjectReply }
  /** What measures did that are taken on several units: the effect page's section by unit. */
  'GET /api/projects/:id/by-unit': { role: 'viewer'; reply: ByUnitReply }
  'PATCH /api/projects/:id': { role: 'member'; body: Change<Project>; reply: Project }

  'POST /api/measures': { role: 'member'; body: NewMeasure; reply: Measure }
  'GET /api/measures/:id': { role: 'viewer'; reply: MeasureReply }
  'PATCH /api/measures/:id': { role: 'member'; body: Change<Measure>; reply: Measure }
  /** All or nothing: saved rows and removed rows in one transaction. */
  'POST /api/measures/:id/observations': {
    role: 'member'
    body: { save: SaveObservation[]; remove: { id: Id; version: number }[] }
    reply: { observations: Observation[] }
  }
  'POST /api/measures/:id/import/preview': {
    role: 'member'
    body: ImportRequest
    reply: ImportPreview
  }
  /** Imports only what previews without an issue; `duplicates` says what to do with known dates. */
  'POST /api/measures/:id/import': {
    role: 'member'
    body: ImportRequest & { duplicates: 'refuse' | 'skip' | 'replace' }
    reply: { imported: number; observations: Observation[] }
  }
  'POST /api/phases': { role: 'member'; body: NewPhase; reply: Phase }
  'PATCH /api/phases/:id': { role: 'member'; body: Change<Phase>; reply: Phase }
  'DELETE /api/phases/:id': { role: 'member'; body: OnVersion; reply: { removed: number } }
  'POST /api/annotations': { role: 'member'; body: NewAnnotation; reply: Annotation }
  'PATCH /api/annotations/:id': { role: 'member'; body: Change<Annotation>; reply: Annotation }
  'DELETE /api/annotations/:id': { role: 'member'; body: OnVersion; reply: { removed: number } }

  /** What is known now about the idea of a chain: writes it, or replaces that version. */
  'PUT /api/ramps/:id/note': {
    role: 'member'
    body: { id: Id; text: string; version: number | null }
    reply: RampNote
  }
  'POST /api/cycles': { role: 'member'; body: NewCycle; reply: CycleBrief }
  'GET /api/cycles/:id': { role: 'viewer'; reply: CycleReply }
  /** What the figures say, computed from the record: the finding that page and reports show. */
  'GET /api/cycles/:id/findings': { role: 'viewer'; reply: FindingsReply }
  /** Before the lock only. */
  'PATCH /api/cycles/:id/plan': { role: 'member'; body: Partial<Plan> & OnVersion; reply: Cycle }
  /** Before the lock only: creates or replaces the prediction of one measure. */
  'PUT /api/cycles/:id/predictions/:predictionId': {
    role: 'member'
    body: Omit<NewPrediction, 'id'> & { version: number | null }
    reply: Prediction
  }
  'DELETE /api/cycles/:id/predictions/:predictionId': {
    role: 'member'
    body: OnVersion
    reply: { removed: number }
  }
  /** Lock and start: freezes plan and predictions. 409 `cycle.not_ready` lists what is missing. */
  'POST /api/cycles/:id/lock': { role: 'member'; body: OnVersion; reply: Cycle }
  'POST /api/cycles/:id/addenda': {
    role: 'member'
    body: Pick<Addendum, 'id' | 'predictionId' | 'text'>
    reply: Addendum
  }
  'PATCH /api/cycles/:id/do': { role: 'member'; body: Partial<DoFields> & OnVersion; reply: Cycle }
  /** A trial with its values, one row for each measure. */
  'POST /api/cycles/:id/trials': {
    role: 'member'
    body: {
      id: Id
      at: Instant
      note: string
      observations: (Omit<SaveObservation, 'trialId' | 'cycleId' | 'version'> & { measureId: Id })[]
    }
    reply: { trial: Trial; observations: Observation[] }
  }
  /** Voids with a reason (its observations are left out for it), or takes the void back with `null`. */
  'PATCH /api/trials/:id': {
    role: 'member'
    body: Partial<Pick<Trial, 'note' | 'voidReason'>> & OnVersion
    reply: Trial
  }
  /** Do is over. 409 `cycle.no_outcome` while no predicted measure has an observation of this test. */
  'POST /api/cycles/:id/done': { role: 'member'; body: OnVersion; reply: Cycle }
  'PATCH /api/cycles/:id/study': {
    role: 'member'
    body: Partial<StudyFields> & OnVersion
    reply: Cycle
  }
  /** Study is written. */
  'POST /api/cycles/:id/studied': { role: 'member'; body: OnVersion; reply: Cycle }
  /** Closes the test. `adapt` also opens the next one and answers it in `next`. */
  'POST /api/cycles/:id/decision': {
    role: 'member'
    body: {
      id: Id
      kind: DecisionKind
      reason: string
      nextChange: string
      /** Where the figures suggest something else; kept beside the suggestion of that moment. */
      differsBecause?: string
      nextId: Id
      version: number
    }
    reply: { cycle: Cycle; decision: Decision; next: CycleBrief | null }
  }

  'GET /api/kits': { role: 'viewer'; reply: { kits: KitReply[] } }
  'POST /api/kits': { role: 'coach'; body: { id: Id; kit: Kit }; reply: KitReply }
  'PATCH /api/kits/:id': { role: 'coach'; body: OnVersion & { kit: Kit }; reply: KitReply }
  'DELETE /api/kits/:id': { role: 'coach'; body: OnVersion; reply: { removed: number } }

  'GET /api/rooms': { role: 'viewer'; reply: { rooms: RoomBrief[] } }
  /** Opens a room with a fresh code. */
  'POST /api/rooms': { role: 'coach'; body: NewRoom; reply: RoomState }
  /** Name and settings; kit only while no round has begun. */
  'PATCH /api/rooms/:id': {
    role: 'coach'
    body: { name?: string; kit?: Kit; settings?: RoomSettings }
    reply: RoomState
  }
  /** What a code opens. Guessing is slowed down: 429 `room.too_many_tries`. */
  'POST /api/rooms/find': { role: 'public'; body: { code: string }; reply: FoundRoom }
  /** Takes a seat: this browser's cookie is from now on a phone of that table, or a room screen. */
  'POST /api/rooms/join': { role: 'public'; body: JoinRequest; reply: RoomState }
  /**
   * The room as the one who asks may see it: a seat of it, or a coach. `GET /api/rooms/:id/feed`
   * keeps it up to date: server-sent events `state` (RoomState) and `change` (RoomChange), with
   * `Last-Event-ID`, or `?after=`, to resume.
   *
   * A browser can be several of these at once. Unasked, a coach is the facilitator and everybody
   * else their seat; `?as=lead`, `?as=table` or `?as=screen` says which is meant, here, for the feed
   * and for moves.
   */
  'GET /api/rooms/:id': { role: 'seat'; reply: RoomState }
  /**
   * The room for those who look back on it: coaches see all of it; once it is closed everybody sees
   * it, but for notes and what single people said of their confidence. 403 `room.still_open`.
   */
  'GET /api/rooms/:id/wrap-up': { role: 'viewer'; reply: RoomState }
  /** In order; each is done once, whole, or refused, whatever becomes of the others. */
  'POST /api/rooms/:id/moves': {
    role: 'seat'
    body: { moves: Move[] }
    reply: { results: MoveResult[]; seq: number }
  }
  /** Opens a real project on a ward from what a table learned. */
  'POST /api/rooms/:id/ward': {
    role: 'member'
    body: {
      projectId: Id
      cycleId: Id
      unitId: Id
      name: string
      aim: string
      question: string
      change: string
      /** The table it comes from, whose people the plan names; `null`: the class. */
      tableId: Id | null
      who: string
    }
    reply: { projectId: Id; cycleId: Id }
  }

  'GET /api/projects/:id/experiments': { role: 'viewer'; reply: ExperimentsReply }
  'POST /api/experiments': {
    role: 'member'
    body: Pick<Experiment, 'id' | 'projectId' | 'title'>
    reply: ExperimentBrief
  }
  'GET /api/experiments/:id': { role: 'viewer'; reply: ExperimentReply }
  /** Before the lock only. */
  'PATCH /api/experiments/:id/plan': {
    role: 'member'
    body: Partial<ExperimentPlan> & OnVersion
    reply: Experiment
  }
  /** Before the lock only; takes its changes with it. */
  'DELETE /api/experiments/:id': { role: 'member'; body: OnVersion; reply: { removed: number } }
  /** Before the lock only: adds a change at the end, or replaces that version. */
  'PUT /api/experiments/:id/factors/:factorId': {
    role: 'member'
    body: Omit<ExperimentFactor, 'id' | 'experimentId' | 'position' | 'version'> & {
      version: number | null
    }
    reply: ExperimentFactor
  }
  'DELETE /api/experiments/:id/factors/:factorId': {
    role: 'member'
    body: OnVersion
    reply: { removed: number }
  }
  /** Freezes the plan and draws the order. 409 `experiment.not_ready` lists what is missing. */
  'POST /api/experiments/:id/lock': { role: 'member'; body: OnVersion; reply: ExperimentBrief }
  /** A response, its note, or why it does not count. After the lock only. */
  'PATCH /api/experiment-runs/:id': {
    role: 'member'
    body: Partial<Pick<ExperimentRun, 'response' | 'note' | 'leftOutReason'>> & OnVersion
    reply: ExperimentRun
  }
  /** After the lock only. */
  'PATCH /api/experiments/:id/learned': {
    role: 'member'
    body: Pick<Experiment, 'learned'> & OnVersion
    reply: Experiment
  }
}

export type RouteName = keyof Routes
