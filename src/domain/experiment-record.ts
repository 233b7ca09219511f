import type { CarePlan } from './care-issues.ts'
import type { Id, Instant, Origin } from './record.ts'

/** What one run gives: a number, a time in seconds, or a share 0–1. */
export const RESPONSE_KINDS = ['number', 'duration', 'share'] as const
export type ResponseKind = (typeof RESPONSE_KINDS)[number]

/** What the team intends with several changes at once. Frozen when the experiment is locked. */
export interface ExperimentPlan extends CarePlan {
  readonly title: string
  readonly question: string
  /** The project's measure that the response belongs to; `null`: a response of its own. */
  readonly measureId: Id | null
  /** What is read off after every run. */
  readonly response: string
  readonly responseKind: ResponseKind
  readonly unitLabel: string
  readonly better: 'up' | 'down' | null
  /** Who does a run, where, and what is kept the same in every one. */
  readonly conditions: string
  /** Generators such as `D=AB E=AC`; `''`: every combination; `null`: not chosen yet. */
  readonly generators: string | null
  /** How often each combination is run, 1 to 4. */
  readonly replicates: number
  /** Further runs with every change at its middle level, 0 to 6. */
  readonly centerPoints: number
  /** Guess at how much two runs of the same combination differ, as a standard deviation. */
  readonly guessedSd: number | null
}

/** A planned experiment: several changes varied together, by a design, in random order. */
export interface Experiment extends ExperimentPlan {
  readonly id: Id
  readonly projectId: Id
  readonly origin: Origin
  readonly createdAt: Instant
  readonly lockedAt: Instant | null
  readonly lockedById: Id | null
  /** Of the random order; drawn by the server at the lock. */
  readonly seed: number | null
  readonly learned: string
  readonly version: number
}

/** One change that is varied, with its two levels in words. */
export interface ExperimentFactor {
  readonly id: Id
  readonly experimentId: Id
  /** 1 to 7; its letter in the design follows from the order of these. */
  readonly position: number
  readonly name: string
  readonly low: string
  readonly high: string
  /** Between the two, for centre points; `''` where there is none. */
  readonly middle: string
  /** Predicted effect: mean response at `high` minus mean at `low`. */
  readonly expected: number | null
  readonly why: string
  readonly version: number
}

/** One run of an experiment, in the order to do them. */
export interface ExperimentRun {
  readonly id: Id
  readonly experimentId: Id
  readonly position: number
  /** One sign a change: `+` high, `-` low, `0` middle. */
  readonly levels: string
  readonly response: number | null
  /** When and by whom the response was first written down. */
  readonly at: Instant | null
  readonly byId: Id | null
  readonly note: string
  /** Kept, but not counted, for this reason. */
  readonly leftOutReason: string | null
  readonly version: number
}
