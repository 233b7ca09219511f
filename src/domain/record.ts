/**
 * The record: what Pawl keeps, as plain data. One record, the test of change, serves the classroom
 * and the ward alike.
 *
 * Names are the same here, in the API and in the database, so nothing is translated on the way.
 * Times are ISO 8601 in UTC; calendar dates are `YYYY-MM-DD`; a missing value is `null`; text that
 * nobody has written yet is `''`. `version` starts at 1 and grows by one with every save.
 */

import type { ChartKind, RuleSetId } from '../stats/types.ts'

/** 26 characters, sortable by time of making; made by the client where that is useful. */
export type Id = string
/** `YYYY-MM-DD`. */
export type DateText = string
/** ISO 8601 date-time in UTC, such as `2026-03-02T09:15:00.000Z`. */
export type Instant = string

/** May do, each more than the one before: look; write records; shape units; manage accounts. */
export const ROLES = ['viewer', 'member', 'coach', 'owner'] as const
export type Role = (typeof ROLES)[number]

/** `example`: part of the invented hospital, which can be removed again as a whole. */
export type Origin = 'own' | 'example'

export interface Unit {
  readonly id: Id
  readonly parentId: Id | null
  readonly name: string
  readonly origin: Origin
  readonly version: number
}

export interface Person {
  readonly id: Id
  readonly name: string
  /** Signs in with it; lower case. `null`: named in records, has no account. */
  readonly email: string | null
  readonly role: Role
  /** When the account was closed. Closed accounts keep their name in the record. */
  readonly closedAt: Instant | null
  readonly origin: Origin
  readonly version: number
}

export interface Project {
  readonly id: Id
  readonly unitId: Id
  readonly name: string
  /** What, how much, by when, for whom, from which baseline. */
  readonly aim: string
  readonly leadId: Id | null
  readonly origin: Origin
  readonly createdAt: Instant
  readonly version: number
}

export const MEASURE_ROLES = ['outcome', 'process', 'balancing'] as const
export type MeasureRole = (typeof MEASURE_ROLES)[number]

export const DATA_KINDS = [
  'single',
  'subgrouped',
  'classified',
  'counts',
  'rates',
  'cases-between',
  'time-between',
] as const
/** What one observation is; decides which columns it has and which chart suits it. */
export type DataKind = (typeof DATA_KINDS)[number]

/** How single values are written and read: `duration` values are seconds, shown as m:ss. */
export type ValueFormat = 'number' | 'duration'

export interface Measure {
  readonly id: Id
  readonly projectId: Id
  readonly name: string
  readonly role: MeasureRole
  readonly dataKind: DataKind
  readonly valueFormat: ValueFormat
  /** What the numbers count (`minutes`, `falls`), the items classified are, or the area of a rate is (`bed-days`). */
  readonly unitLabel: string
  /** Rates are shown per this many units of area, such as 1,000 bed-days. 1 otherwise. */
  readonly per: number
  readonly better: 'up' | 'down' | null
  /** How it is counted, by whom, when, what is excluded. */
  readonly operationalDefinition: string
  readonly collectionPlan: string
  /** In the chart's unit: proportion 0–1, seconds, rate per `per`. */
  readonly goal: number | null
  /** `auto`: chosen from the data kind. */
  readonly chartKind: ChartKind | 'auto'
  readonly ruleSet: RuleSetId | 'auto'
  /** The unit it is measured on; `null`: the project's own. */
  readonly unitId: Id | null
  /**
   * The measure of the same project that it repeats on another unit; `null`: it repeats none. What
   * makes them the same (see `repeats.ts`) is written on that one, which repeats none itself.
   */
  readonly sameAsId: Id | null
  readonly version: number
}

/** A stretch of a measure with its own centre and limits. Only a person starts one, with a reason. */
export interface Phase {
  readonly id: Id
  readonly measureId: Id
  /** `null`: from the first observation on (the baseline phase). */
  readonly startsAt: DateText | null
  /** Centre and limits come from the points up to this date and are carried forward. */
  readonly frozenThrough: DateText | null
  readonly reason: string
  /** The test of change that explains it. */
  readonly cycleId: Id | null
  readonly version: number
}

/**
 * One observation of a measure. `value` for single values, counts and gaps between events;
 * `numerator` and `denominator` for classified data and rates. Several single rows of one date are
 * a subgroup where the measure wants one.
 */
export interface Observation {
  readonly id: Id
  readonly measureId: Id
  /** The test of change it was collected for, if it was. */
  readonly cycleId: Id | null
  readonly trialId: Id | null
  /** Calendar date, or date-time where several belong to one day. */
  readonly at: DateText | Instant
  readonly value: number | null
  readonly numerator: number | null
  readonly denominator: number | null
  readonly note: string
  /** Kept and drawn, but left out of centre, limits and rules, for this reason. */
  readonly leftOutReason: string | null
  readonly version: number
}

/** An event worth remembering on a measure's time axis. */
export interface Annotation {
  readonly id: Id
  readonly measureId: Id
  readonly at: DateText
  readonly text: string
  readonly version: number
}

/** What the local policy says this test is. `exercise`: a classroom task without patients. */
export type Determination = 'improvement' | 'research' | 'exercise'
/** `not-needed`: local policy asks for none; the note says where that is written. */
export type Approval = 'on-record' | 'not-needed' | 'not-yet'

/** How sure the team is that the change will work here. */
export const BELIEFS = ['low', 'high'] as const
export type Belief = (typeof BELIEFS)[number]
/** What it would cost, in harm, money or goodwill, if the test failed. */
export const FAILURE_COSTS = ['small', 'large'] as const
export type FailureCost = (typeof FAILURE_COSTS)[number]
/** How ready the people are who would have to work in the new way. */
export const READINESS = ['resistant', 'indifferent', 'ready'] as const
export type Readiness = (typeof READINESS)[number]

/** What the team intends. Frozen when the cycle is locked. */
export interface Plan {
  readonly title: string
  readonly question: string
  readonly change: string
  readonly who: string
  readonly where: string
  readonly plannedFrom: DateText | null
  readonly plannedTo: DateText | null
  readonly howMany: string
  /** What will be collected, by whom, how. */
  readonly collection: string
  readonly determination: Determination | null
  readonly approval: Approval | null
  /** Where the determination and approval are recorded. */
  readonly approvalNote: string
  readonly couldHarm: 'yes' | 'no' | null
  /** Asked for to suggest a size of the test; each may stay open. */
  readonly belief: Belief | null
  readonly failureCost: FailureCost | null
  readonly readiness: Readiness | null
  /** When to stop at once, on the balancing measure named beside it. */
  readonly stopRule: string
  readonly stopMeasureId: Id | null
}

/** One test of change: a turn of Plan, Do, Study, Act. */
export interface Cycle extends Plan {
  readonly id: Id
  readonly projectId: Id
  /** Id of the first cycle of the chain; its own id for the first. */
  readonly rampId: Id
  /** 1, 2, 3 … within the project, in order of making. */
  readonly number: number
  /** The test this one builds on. */
  readonly buildsOnId: Id | null
  readonly origin: Origin
  readonly createdAt: Instant
  readonly lockedAt: Instant | null
  readonly lockedById: Id | null
  // Do
  readonly ranFrom: DateText | null
  readonly ranTo: DateText | null
  readonly happened: string
  readonly wentWrong: string
  readonly surprises: string
  readonly doneAt: Instant | null
  // Study
  readonly learned: string
  /** Was the prediction right, and why or why not. */
  readonly predictionReview: string
  readonly studiedAt: Instant | null
  readonly version: number
}

/** What the team expects of one measure. Immutable once its cycle is locked. */
export interface Prediction {
  readonly id: Id
  readonly cycleId: Id
  readonly measureId: Id
  /** In the chart's unit, like `low` and `high`; `null` until filled in. */
  readonly expected: number | null
  readonly low: number | null
  readonly high: number | null
  /** 0–1: how often the team expects the outcome to fall from low to high. */
  readonly confidence: number
  readonly why: string
  readonly version: number
}

/** A correction after the lock; stands beside the plan or prediction, never in place of it. */
export interface Addendum {
  readonly id: Id
  readonly cycleId: Id
  /** The prediction it is about; `null`: the plan as a whole. */
  readonly predictionId: Id | null
  readonly text: string
  readonly at: Instant
  readonly byId: Id
}

/** What a team knows now about one idea, over all its tests; rewritten as they learn. */
export interface RampNote {
  readonly id: Id
  readonly projectId: Id
  /** Id of the first test of the chain. */
  readonly rampId: Id
  readonly text: string
  readonly version: number
}

/** One try of the change: a round of the timed task, one shift, one patient list. */
export interface Trial {
  readonly id: Id
  readonly cycleId: Id
  readonly number: number
  readonly at: Instant
  readonly byId: Id
  readonly note: string
  /** Kept, but not counted, for this reason. */
  readonly voidReason: string | null
  readonly version: number
}

export const DECISIONS = ['adopt', 'adapt', 'abandon'] as const
export type DecisionKind = (typeof DECISIONS)[number]

/** What the figures can suggest; the team decides. */
export const SUGGESTIONS = [...DECISIONS, 'keep-collecting'] as const
export type SuggestionKind = (typeof SUGGESTIONS)[number]

export interface Decision {
  readonly id: Id
  readonly cycleId: Id
  readonly kind: DecisionKind
  readonly reason: string
  /** What the next test will change; needed for `adapt`. */
  readonly nextChange: string
  /** What the figures suggested at that moment; `null`: not kept (decided before it was). */
  readonly suggestedKind: SuggestionKind | null
  /** Why they did, one sentence a line. */
  readonly suggestedReasons: string | null
  /** Why the team decided otherwise; `''`: it decided the same, or left it open. */
  readonly differsBecause: string | null
  readonly at: Instant
  readonly byId: Id
}
