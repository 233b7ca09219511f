import { openExperiment } from '../../src/domain/experiment.ts'
import { experimentDesign, levelsOf } from '../../src/domain/experiment-design.ts'
import type {
  Experiment,
  ExperimentFactor,
  ExperimentRun,
} from '../../src/domain/experiment-record.ts'

// Records of planned experiments for tests: whole and valid, each field replaceable.

/** A plan that is ready to lock once it has its factors. */
export const experiment = (own: Partial<Experiment> = {}): Experiment => ({
  ...openExperiment({
    id: 'E1',
    projectId: 'P1',
    title: 'Four changes to the round',
    createdAt: '2026-02-27T08:00:00.000Z',
    origin: 'own',
  }),
  question: 'Which of the changes shorten the round?',
  response: 'the time of the round',
  unitLabel: 'minutes',
  better: 'down',
  generators: '',
  determination: 'exercise',
  couldHarm: 'no',
  ...own,
})

export const factor = (
  position: number,
  name: string,
  own: Partial<ExperimentFactor> = {},
): ExperimentFactor => ({
  id: `F${position}`,
  experimentId: 'E1',
  position,
  name,
  low: 'off',
  high: 'on',
  middle: '',
  expected: 0,
  why: '',
  version: 1,
  ...own,
})

export const factors = (...names: readonly string[]): ExperimentFactor[] =>
  names.map((name, i) => factor(i + 1, name))

export const run = (position: number, own: Partial<ExperimentRun> = {}): ExperimentRun => ({
  id: `R${position}`,
  experimentId: 'E1',
  position,
  levels: '--',
  response: null,
  at: null,
  byId: null,
  note: '',
  leftOutReason: null,
  version: 1,
  ...own,
})

/**
 * Runs with responses given in the standard order of the design; a list is one response a repeat.
 * Responses at the middle come last.
 */
export function runsOf(
  factorCount: number,
  generators: string,
  responses: readonly (number | readonly number[])[],
  center: readonly number[] = [],
): ExperimentRun[] {
  const design = experimentDesign(factorCount, generators)
  const rows = [
    ...responses.flatMap((response, i) =>
      (typeof response === 'number' ? [response] : response).map((y) => ({
        levels: levelsOf(design.runs[i]!),
        response: y,
      })),
    ),
    ...center.map((response) => ({ levels: '0'.repeat(factorCount), response })),
  ]
  return rows.map((own, i) => run(i + 1, own))
}
