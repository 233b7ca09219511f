/** What a test found, what a change did by unit and how predictions came out, as answered. Types only. */

import type { Change as MeasuredChange } from '../domain/change.ts'
import type { EffectClaim, EffectFinding } from '../domain/effect.ts'
import type { Estimate } from '../domain/effect-fit.ts'
import type { Finding, Study } from '../domain/finding.ts'
import type { FindingText } from '../domain/finding-text.ts'
import type { JudgedApart } from '../domain/judged-predictions.ts'
import type { Id } from '../domain/record.ts'
import type { Suggestion } from '../domain/suggestion.ts'
import type { UnitEffect, UnitsFinding } from '../domain/unit-effects.ts'
import type { UnitWords } from '../domain/unit-effects-text.ts'
import type { StartSource } from '../domain/unit-starts.ts'
import type { Signal } from '../stats/types.ts'

/** A finding of a test as figures, and the sentences that page and reports make of them. */
export interface FindingReply extends Omit<Finding, 'measure' | 'prediction' | 'change'> {
  readonly measureId: Id
  readonly measureName: string
  /** `null`: a balancing measure that nobody predicted. */
  readonly predictionId: Id | null
  readonly change:
    | (Omit<MeasuredChange, 'interval'> & {
        /** 95 %; an end is `null` where the data set no bound. */
        readonly interval: { readonly lower: number | null; readonly upper: number | null } | null
      })
    | null
  readonly text: FindingText
}

/** Everything the figures say about a test, as the record stands now. */
export interface FindingsReply extends Pick<Study, 'overlaps'> {
  readonly cycleId: Id
  /** Harm first, then in the order of the predictions. */
  readonly findings: readonly FindingReply[]
  /** Signals since the test began on measures that have no finding of their own. */
  readonly elsewhere: readonly {
    readonly measureId: Id
    readonly measureName: string
    readonly signal: Signal
  }[]
  /** What holds for every finding of the test. */
  readonly limits: readonly string[]
  readonly suggestion: Suggestion
}

/** What a measure did on one of its units, as figures and words. */
export interface UnitEffectReply extends Pick<UnitEffect, 'change' | 'weight'> {
  readonly measureId: Id
  readonly unitId: Id
  readonly unitName: string
  /** `testId`: the test, or phase of the measure, that it is looked at from. */
  readonly start: {
    readonly at: string
    readonly name: string
    readonly testId: Id
    readonly source: StartSource
  } | null
  readonly kind: EffectFinding['kind'] | null
  readonly claim: EffectClaim | null
  readonly before: EffectFinding['before'] | null
  readonly after: EffectFinding['after'] | null
  /** The change in the chart's unit. */
  readonly distance: Estimate | null
  readonly text: UnitWords
}

/** Each measure of a project that is taken on several units. */
export interface ByUnitReply {
  readonly projectId: Id
  readonly measures: readonly (Pick<UnitsFinding, 'scale' | 'together' | 'stepped'> & {
    readonly measureId: Id
    readonly measureName: string
    readonly units: readonly UnitEffectReply[]
    readonly text: FindingText
  })[]
}

/** How predictions came out, for somebody or some place: tests on care, and exercises apart. */
export interface CalibrationReply extends JudgedApart {
  readonly name: string
}
