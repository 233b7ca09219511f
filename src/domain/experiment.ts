import { AppError } from '../errors.ts'
import { careIssues } from './care-issues.ts'
import {
  designsFor,
  experimentDesign,
  LEAST_FACTORS,
  MOST_FACTORS,
  MOST_RUNS,
  runLevels,
} from './experiment-design.ts'
import type { Experiment, ExperimentFactor, ExperimentRun } from './experiment-record.ts'
import type { Issue } from './issue.ts'
import type { Id, Instant, Measure, Origin } from './record.ts'

/**
 * A planned experiment with nothing in it yet.
 *
 * @example
 * openExperiment({ id: 'E1', projectId: 'P1', title: 'Three', createdAt: '', origin: 'own' }).replicates // => 1
 */
export function openExperiment(given: {
  readonly id: Id
  readonly projectId: Id
  readonly title: string
  readonly createdAt: Instant
  readonly origin: Origin
}): Experiment {
  return {
    ...given,
    question: '',
    measureId: null,
    response: '',
    responseKind: 'number',
    unitLabel: '',
    better: null,
    conditions: '',
    generators: null,
    replicates: 1,
    centerPoints: 0,
    guessedSd: null,
    determination: null,
    approval: null,
    approvalNote: '',
    couldHarm: null,
    stopRule: '',
    stopMeasureId: null,
    lockedAt: null,
    lockedById: null,
    seed: null,
    learned: '',
    version: 1,
  }
}

/** Factors in the order that gives them their letters. */
export const inOrder = (factors: readonly ExperimentFactor[]): ExperimentFactor[] =>
  [...factors].sort((a, b) => a.position - b.position)

/**
 * Runs that a plan takes, centre points among them.
 *
 * @returns `null` while no design is chosen that fits the number of factors.
 */
export function runsNeeded(
  plan: Pick<Experiment, 'generators' | 'replicates' | 'centerPoints'>,
  factors: number,
): number | null {
  const { generators } = plan
  if (generators === null || !designsFor(factors).includes(generators)) return null
  const corners = experimentDesign(factors, generators).runs.length
  return corners * plan.replicates + plan.centerPoints
}

/**
 * What still stands between a plan and its lock; empty when nothing does.
 *
 * @param experiment The experiment, not yet locked.
 * @param factors    Its factors, in any order.
 * @param measures   The project's measures.
 * @returns One issue a missing or contradictory thing, in the order of the page.
 */
export function experimentReadiness(
  experiment: Experiment,
  factors: readonly ExperimentFactor[],
  measures: readonly Measure[],
): Issue[] {
  const issues: Issue[] = []
  const ask = (code: string, field: string, message: string) =>
    issues.push({ code: `experiment.${code}`, field, message })
  if (blank(experiment.question))
    ask('no_question', 'question', 'Write the question these runs answer.')
  if (blank(experiment.response))
    ask('no_response', 'response', 'Say what is read off after every run.')
  if (factors.length < LEAST_FACTORS)
    ask('few_factors', 'factors', 'Name at least two changes; one by itself is a test of change.')
  if (factors.length > MOST_FACTORS)
    ask('many_factors', 'factors', 'Keep to seven changes; take the others out.')
  for (const [i, factor] of inOrder(factors).entries())
    issues.push(...factorIssues(factor, i, factors, experiment.centerPoints > 0))
  const runs = runsNeeded(experiment, factors.length)
  if (runs === null) ask('no_design', 'generators', 'Choose a design for this number of changes.')
  else if (runs > MOST_RUNS)
    ask(
      'many_runs',
      'generators',
      `This takes ${runs} runs; at most ${MOST_RUNS} can be planned. Choose a smaller design or fewer repeats.`,
    )
  issues.push(...careIssues(experiment, measures))
  return issues
}

function factorIssues(
  factor: ExperimentFactor,
  index: number,
  all: readonly ExperimentFactor[],
  needsMiddle: boolean,
): Issue[] {
  const name = blank(factor.name) ? `change ${index + 1}` : factor.name.trim()
  const issues: Issue[] = []
  const ask = (code: string, part: string, message: string) =>
    issues.push({
      code: `experiment.${code}`,
      field: `factor:${factor.id}:${part}`,
      message,
    })
  if (blank(factor.name)) ask('no_factor_name', 'name', `Give ${name} a name.`)
  else if (all.some((f) => f.id !== factor.id && same(f.name, factor.name)))
    ask('same_name', 'name', `Two changes are called ${name}; give each a name of its own.`)
  if (blank(factor.low) || blank(factor.high))
    ask('no_levels', blank(factor.low) ? 'low' : 'high', `Say both ways of ${name} in words.`)
  else if (same(factor.low, factor.high))
    ask('same_levels', 'high', `The two ways of ${name} are the same; nothing would be changed.`)
  if (needsMiddle && blank(factor.middle))
    ask('no_middle', 'middle', `Middle runs need a middle way of ${name}; say it, or plan none.`)
  if (factor.expected === null)
    ask('no_expected', 'expected', `Predict what ${name} will do; no difference is an answer too.`)
  return issues
}

/** What the lock makes: the frozen plan, and the runs without their ids. */
export interface LockedExperiment {
  readonly experiment: Experiment
  readonly runs: readonly Omit<ExperimentRun, 'id'>[]
}

/**
 * Lock the plan and draw the order: design, levels, order and predictions stay from here on.
 *
 * @param seed Of the order, whole, 0 or more. Passed in: the domain has no randomness.
 * @throws AppError `experiment.locked`; `experiment.not_ready` with every open `issues`.
 */
export function lockExperiment(
  experiment: Experiment,
  factors: readonly ExperimentFactor[],
  measures: readonly Measure[],
  { seed, byId, at }: { readonly seed: number; readonly byId: Id; readonly at: Instant },
): LockedExperiment {
  mustBePlanned(experiment)
  const issues = experimentReadiness(experiment, factors, measures)
  if (issues.length > 0)
    throw new AppError(
      'experiment.not_ready',
      `${issues.length} ${issues.length === 1 ? 'thing is' : 'things are'} missing before this plan can be locked.`,
      issues[0]!.message,
      { experimentId: experiment.id, issues },
    )
  const { generators, replicates, centerPoints } = experiment
  const design = experimentDesign(factors.length, generators ?? '')
  const levels = runLevels(design, replicates, centerPoints, seed)
  return {
    experiment: { ...experiment, lockedAt: at, lockedById: byId, seed },
    runs: levels.map((signs, i) => ({
      experimentId: experiment.id,
      position: i + 1,
      levels: signs,
      response: null,
      at: null,
      byId: null,
      note: '',
      leftOutReason: null,
      version: 1,
    })),
  }
}

/** @throws AppError `experiment.locked` when the plan can no longer be edited. */
export function mustBePlanned(experiment: Experiment): void {
  if (experiment.lockedAt === null) return
  throw new AppError(
    'experiment.locked',
    `This plan was locked on ${experiment.lockedAt.slice(0, 10)}; its design, order and predictions stay as they are.`,
    'Write what differed beside the runs, or plan another one.',
    { experimentId: experiment.id },
  )
}

/** @throws AppError `experiment.not_locked` before the order is drawn. */
export function mustBeDrawn(experiment: Experiment): void {
  if (experiment.lockedAt !== null) return
  throw new AppError(
    'experiment.not_locked',
    'The order of the runs is not drawn yet.',
    'Lock the plan first, so that the predictions stand before the data.',
    { experimentId: experiment.id },
  )
}

/**
 * What a run holds after a change: its response carries who wrote it down first and when.
 *
 * @throws AppError `experiment.bad_response` when a share or a time is out of its range.
 */
export function changeRun(
  experiment: Experiment,
  run: ExperimentRun,
  change: Partial<Pick<ExperimentRun, 'response' | 'note' | 'leftOutReason'>>,
  byId: Id,
  at: Instant,
): Partial<ExperimentRun> {
  const response = change.response === undefined ? run.response : change.response
  if (experiment.responseKind !== 'number' && response !== null) {
    const share = experiment.responseKind === 'share'
    if (response < 0 || (share && response > 1))
      throw new AppError(
        'experiment.bad_response',
        share ? 'A share lies between 0 % and 100 %.' : 'A time cannot be below zero.',
        'Correct the value of this run.',
        { runId: run.id, response },
      )
  }
  if (response === null) return { ...change, at: null, byId: null }
  return run.response === null ? { ...change, at, byId } : change
}

const blank = (text: string) => text.trim() === ''
const same = (a: string, b: string) => a.trim().toLowerCase() === b.trim().toLowerCase()
