/** What the routes of experiments answer. Types only. */

import type { Experiment, ExperimentFactor, ExperimentRun } from '../domain/experiment-record.ts'
import type { Measure, Person, Project, Unit } from '../domain/record.ts'

/** A planned experiment with its changes and its runs, each in order. */
export interface ExperimentBrief {
  readonly experiment: Experiment
  readonly factors: readonly ExperimentFactor[]
  /** Empty until the lock draws their order. */
  readonly runs: readonly ExperimentRun[]
}

export interface ExperimentsReply {
  readonly unit: Unit
  readonly project: Project
  readonly experiments: readonly ExperimentBrief[]
}

export interface ExperimentReply extends ExperimentBrief {
  readonly unit: Unit
  readonly project: Project
  /** Every measure of the project. */
  readonly measures: readonly Measure[]
  readonly people: readonly Pick<Person, 'id' | 'name'>[]
}
