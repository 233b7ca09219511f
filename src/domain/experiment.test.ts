import { describe, expect, it } from 'vitest'
import { experiment, factor, factors, run } from '../../tests/support/experiment-records.ts'
import { measure } from '../../tests/support/records.ts'
import {
  changeRun,
  experimentReadiness,
  lockExperiment,
  mustBeDrawn,
  mustBePlanned,
  runsNeeded,
} from './experiment.ts'
import type { Experiment, ExperimentFactor } from './experiment-record.ts'

const lockedAt = '2026-03-02T09:15:00.000Z'
const by = { seed: 12, byId: 'A1', at: lockedAt }
const three = factors('Card', 'Tray', 'Timer')

describe('what stands before the lock', () => {
  it('is nothing once question, response, changes, predictions, design and care are there', () => {
    expect(experimentReadiness(experiment(), three, [])).toEqual([])
  })

  const refusals: [string, Partial<Experiment>, ExperimentFactor[], string, string][] = [
    ['a question', { question: ' ' }, three, 'experiment.no_question', 'question'],
    ['a response', { response: '' }, three, 'experiment.no_response', 'response'],
    ['two changes', {}, three.slice(0, 1), 'experiment.few_factors', 'factors'],
    [
      'no more than seven changes',
      {},
      factors('A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'),
      'experiment.many_factors',
      'factors',
    ],
    [
      'a name of every change',
      {},
      [...three.slice(1), factor(1, '')],
      'experiment.no_factor_name',
      'factor:F1:name',
    ],
    [
      'different names',
      {},
      [...three.slice(0, 2), factor(3, 'card ')],
      'experiment.same_name',
      'factor:F1:name',
    ],
    [
      'both ways of a change',
      {},
      [...three.slice(0, 2), factor(3, 'Timer', { high: '' })],
      'experiment.no_levels',
      'factor:F3:high',
    ],
    [
      'two ways that differ',
      {},
      [...three.slice(0, 2), factor(3, 'Timer', { low: 'On' })],
      'experiment.same_levels',
      'factor:F3:high',
    ],
    [
      'a middle way for middle runs',
      { centerPoints: 3 },
      [factor(1, 'Card', { middle: 'half' }), factor(2, 'Tray')],
      'experiment.no_middle',
      'factor:F2:middle',
    ],
    [
      'a prediction of every change',
      {},
      [...three.slice(0, 2), factor(3, 'Timer', { expected: null })],
      'experiment.no_expected',
      'factor:F3:expected',
    ],
    ['a design', { generators: null }, three, 'experiment.no_design', 'generators'],
    [
      'a design for this number of changes',
      { generators: 'D=ABC' },
      three,
      'experiment.no_design',
      'generators',
    ],
    [
      'no more runs than anybody does',
      { replicates: 2 },
      factors('A', 'B', 'C', 'D', 'E', 'F', 'G'),
      'experiment.many_runs',
      'generators',
    ],
    [
      'the answers on local policy',
      { determination: null },
      three,
      'cycle.no_determination',
      'determination',
    ],
    [
      'a stop rule where it could harm',
      { couldHarm: 'yes', stopRule: '' },
      three,
      'cycle.no_stop_rule',
      'stopRule',
    ],
  ]
  it.each(refusals)('is asked for: %s', (_what, own, given, code, field) => {
    const issues = experimentReadiness(experiment(own), given, [measure()])
    expect(issues).toContainEqual(expect.objectContaining({ code, field }))
    for (const issue of issues) expect(issue.message).toMatch(/\S\.$/)
  })
})

describe('the lock', () => {
  it('freezes the plan and lays the runs out in their order', () => {
    const { experiment: locked, runs } = lockExperiment(
      experiment({ replicates: 2 }),
      three,
      [],
      by,
    )
    expect(locked).toMatchObject({ lockedAt, lockedById: 'A1', seed: 12 })
    expect(runs.map((r) => r.position)).toEqual(Array.from({ length: 16 }, (_, i) => i + 1))
    expect(new Set(runs.slice(0, 8).map((r) => r.levels)).size).toBe(8)
    expect(runs.every((r) => r.response === null && r.leftOutReason === null)).toBe(true)
    expect(runsNeeded(experiment({ replicates: 2 }), 3)).toBe(16)
    expect(runsNeeded(experiment({ generators: null }), 3)).toBeNull()
  })

  it('draws the same order from the same seed and another from another', () => {
    const order = (seed: number) =>
      lockExperiment(experiment(), three, [], { ...by, seed }).runs.map((r) => r.levels)
    expect(order(12)).toEqual(order(12))
    expect(order(12)).not.toEqual(order(13))
  })

  it('is refused with every issue while something is missing, and after it', () => {
    expect(() => lockExperiment(experiment({ question: '' }), [], [], by)).toThrow(
      expect.objectContaining({ code: 'experiment.not_ready' }),
    )
    const locked = experiment({ lockedAt, lockedById: 'A1' })
    expect(() => lockExperiment(locked, three, [], by)).toThrow('locked on 2026-03-02')
    expect(() => mustBePlanned(locked)).toThrow(
      expect.objectContaining({ code: 'experiment.locked' }),
    )
    expect(() => mustBeDrawn(experiment())).toThrow(
      expect.objectContaining({ code: 'experiment.not_locked' }),
    )
  })
})

describe('a response', () => {
  it('carries who wrote it down first, and when', () => {
    const at = '2026-03-03T10:00:00.000Z'
    expect(changeRun(experiment(), run(1), { response: 4 }, 'A2', at)).toEqual({
      response: 4,
      at,
      byId: 'A2',
    })
    const done = run(1, { response: 4, at, byId: 'A2' })
    expect(changeRun(experiment(), done, { response: 5 }, 'A3', 'later')).toEqual({ response: 5 })
    expect(changeRun(experiment(), done, { response: null }, 'A3', 'later')).toEqual({
      response: null,
      at: null,
      byId: null,
    })
    expect(changeRun(experiment(), done, { note: 'x' }, 'A3', 'later')).toEqual({ note: 'x' })
  })

  it.each([
    ['share', 1.2, 'between 0 % and 100 %'],
    ['share', -0.1, 'between 0 % and 100 %'],
    ['duration', -1, 'below zero'],
  ] as const)('of a %s is refused at %s', (responseKind, response, message) => {
    expect(() =>
      changeRun(experiment({ responseKind }), run(1), { response }, 'A1', lockedAt),
    ).toThrow(message)
  })
})
