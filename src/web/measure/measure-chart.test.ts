import { describe, expect, it } from 'vitest'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import { layOutTimeChart } from '../../charts/time-chart.ts'
import type { Cycle, Measure, Observation, Prediction } from '../../domain/record.ts'
import { chartTestOf, measureChart, scaleOf, testMark, unitOf } from './measure-chart.ts'

const measure: Measure = {
  id: 'm',
  projectId: 'p',
  name: 'Summaries in time',
  role: 'process',
  dataKind: 'classified',
  valueFormat: 'number',
  unitLabel: 'discharges',
  per: 1,
  better: 'up',
  operationalDefinition: '',
  collectionPlan: '',
  goal: 0.8,
  chartKind: 'auto',
  ruleSet: 'auto',
  unitId: null,
  sameAsId: null,
  version: 1,
}
const observation = (
  at: string,
  numerator: number,
  cycleId: string | null = null,
): Observation => ({
  id: at,
  measureId: 'm',
  cycleId,
  trialId: null,
  at,
  value: null,
  numerator,
  denominator: 40,
  note: '',
  leftOutReason: null,
  version: 1,
})
const data = (observations: Observation[]): MeasureData => ({
  measure,
  observations,
  phases: [],
  annotations: [],
})
const brief = (cycle: Partial<Cycle>, prediction: Partial<Prediction> = {}): CycleBrief => ({
  cycle: { id: 'c', number: 3, title: 'Draft', lockedAt: null, ...cycle } as Cycle,
  predictions: [
    { id: 'x', cycleId: 'c', measureId: 'm', expected: 0.7, low: 0.6, high: 0.8, ...prediction },
  ] as Prediction[],
  decision: null,
})
const running = {
  lockedAt: '2026-03-01T08:00:00.000Z',
  ranFrom: '2026-03-02',
  ranTo: null,
  doneAt: null,
  plannedFrom: null,
  plannedTo: null,
}

describe('chartTestOf', () => {
  it('follows the typing while the test is planned', () => {
    const planned = brief({ plannedFrom: '2026-03-09', plannedTo: '2026-03-13' })
    const typed = { expected: null, low: 0.5, high: 0.9 }
    expect(chartTestOf(planned, data([]), typed)).toMatchObject({
      mark: 'planned',
      from: '2026-03-09',
      to: '2026-03-13',
      bracket: { low: 0.5, high: 0.9, expected: null, outcome: null },
    })
  })

  it('draws no bracket while the range is open or the wrong way round', () => {
    const planned = brief({ plannedFrom: null, plannedTo: null })
    expect(
      chartTestOf(planned, data([]), { expected: 0.7, low: null, high: 0.9 }).bracket,
    ).toBeNull()
    expect(
      chartTestOf(planned, data([]), { expected: 0.7, low: 0.9, high: 0.6 }).bracket,
    ).toBeNull()
  })

  it('pools what the test observed into its outcome', () => {
    const observed = data([observation('2026-03-02', 30), observation('2026-03-09', 20)])
    expect(chartTestOf(brief(running), observed)).toMatchObject({
      mark: 'running',
      from: '2026-03-02',
      bracket: { outcome: 50 / 80 },
    })
  })

  it('stands at its own time where several tests share a day', () => {
    const observed = data([
      observation('2026-03-02T09:14:00.000Z', 30, 'c'),
      observation('2026-03-02T09:40:00.000Z', 33, 'c'),
    ])
    expect(chartTestOf(brief(running), observed)).toMatchObject({
      from: '2026-03-02T09:14:00.000Z',
      to: '2026-03-02T09:40:00.000Z',
    })
  })
})

it('marks a test by its decision first, then by its stage', () => {
  expect(testMark(brief({}))).toBe('planned')
  expect(testMark(brief(running))).toBe('running')
  expect(testMark(brief({ ...running, doneAt: '2026-03-10T08:00:00.000Z' }))).toBe('waiting')
  const decided = { ...brief(running), decision: { kind: 'adapt' } } as CycleBrief
  expect(testMark(decided)).toBe('adapt')
})

it('answers no chart without data, and the reason where the data do not fit', () => {
  expect(measureChart(data([]), [])).toEqual({ spec: null, analysis: null, problem: null })
  const broken = measureChart(data([observation('2026-03-02', 50)]), [])
  expect(broken.problem?.code).toBe('stats.numerator_over_denominator')
})

it('names the unit that values are followed by', () => {
  expect(unitOf(measure)).toBe('')
  expect(unitOf({ ...measure, dataKind: 'rates', unitLabel: 'bed-days', per: 1000 })).toBe(
    'per 1,000 bed-days',
  )
})

it('counts the axis of a stopwatch measure in whole minutes', () => {
  const timed: Measure = { ...measure, dataKind: 'single', valueFormat: 'duration', goal: null }
  const rows = [700, 1410, 905, 1100].map((value, i) => ({
    ...observation(`2026-03-0${i + 2}`, 0),
    value,
    numerator: null,
    denominator: null,
  }))
  const { spec } = measureChart({ ...data(rows), measure: timed }, [])
  const { marks } = layOutTimeChart({ ...spec!, width: 900 })
  const ticks = marks.flatMap((m) => (m.shape === 'text' && m.role === 'tick-text' ? [m.text] : []))
  const times = ticks.filter((text) => text.includes(':'))
  expect(times.length).toBeGreaterThan(2)
  for (const text of times) expect(text).toMatch(/:00$/)
  expect(scaleOf(measure)).toBe('percent')
})
