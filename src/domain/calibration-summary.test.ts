import { describe, expect, it } from 'vitest'
import { cycle, measure, observation, prediction } from '../../tests/support/records.ts'
import {
  adviceKind,
  adviceText,
  byQuarter,
  byStep,
  calibrationSummary,
} from './calibration-summary.ts'
import { type JudgedPrediction, judgedApart, judgedPredictions } from './judged-predictions.ts'

const judged = (own: Partial<JudgedPrediction> = {}): JudgedPrediction => ({
  cycleId: 'C1',
  projectId: 'P1',
  title: 'Tray card',
  measureName: 'Time to lay the tray',
  better: 'down',
  step: 1,
  lockedAt: '2026-02-10T08:00:00.000Z',
  low: 80,
  expected: 100,
  high: 120,
  confidence: 0.8,
  outcome: 101,
  ...own,
})
/** Outcomes one after the other; every other one a little off, so that they vary. */
const many = (outcomes: readonly number[], own: Partial<JudgedPrediction> = {}) =>
  outcomes.map((outcome) => judged({ ...own, outcome }))
const around = (center: number, n: number) =>
  Array.from({ length: n }, (_, i) => center + (i % 2 === 0 ? 3 : -3))

describe('calibrationSummary', () => {
  it('gives the Wilson interval of 81 in 263 (Newcombe 1998, Stat Med 17:857: 0.2553 to 0.3662)', () => {
    const outcomes = Array.from({ length: 263 }, (_, i) => (i < 81 ? 100 : 200))
    const { share, inside, n } = calibrationSummary(many(outcomes))!
    expect([inside, n]).toEqual([81, 263])
    expect(share.lower).toBeCloseTo(0.2553, 4)
    expect(share.upper).toBeCloseTo(0.3662, 4)
  })

  it('scores in mean outcomes of the measure (Gneiting & Raftery 2007, eq. 43)', () => {
    // Inside: the width, 40. Outside by 10 at 80 %: 40 + 2 / 0.2 · 10. The mean outcome is 115.
    const [held, missed] = [judged({ outcome: 100 }), judged({ outcome: 130 })]
    expect(calibrationSummary([held])!.score).toBeCloseTo(40 / 100, 12)
    expect(calibrationSummary([held, missed])!.score).toBeCloseTo((40 + 140) / 2 / 115, 12)
    expect(calibrationSummary([judged({ low: -1, outcome: 0 })])!.score).toBeNull()
  })

  it('mixes units, and is not carried away by one small expected value', () => {
    const hours = {
      measureName: 'Stay',
      low: 80 / 60,
      expected: 100 / 60,
      high: 2,
      outcome: 130 / 60,
    }
    const alone = calibrationSummary([judged({ outcome: 130 })])!.score!
    expect(calibrationSummary([judged({ outcome: 130 }), judged(hours)])!.score).toBeCloseTo(
      alone,
      9,
    )
    // In a measure of about 4 falls: over its own 0.05 the last range would weigh as much as 40 others.
    const falls = [4, 5, 4, 3].map((outcome) => judged({ low: 2, expected: 4, high: 6, outcome }))
    const rare = judged({ low: 0, expected: 0.05, high: 2, outcome: 1 })
    expect(calibrationSummary([...falls, rare])!.score).toBeLessThan(1.2)
  })

  it('has the bias as mean log accuracy ratio (Tofallis 2015)', () => {
    const { bias } = calibrationSummary([judged({ outcome: 50 }), judged({ outcome: 100 })])!
    expect(bias).toBeCloseTo(Math.log(2) / 2, 12)
    expect(calibrationSummary([judged({ outcome: 0 })])!.bias).toBeNull()
  })
})

describe('the advice', () => {
  it.each([
    ['none', []],
    ['too-few', many(around(100, 9))],
    ['too-narrow', many([...around(70, 6), ...around(135, 6)])],
    ['hopeful', many(around(110, 12))],
    ['cautious', many(around(90, 12))],
    ['too-wide', many(around(100, 20), { confidence: 0.5 })],
    ['holds', many([...around(100, 10), 130, 75])],
  ] as const)('is %s', (kind, predictions) => {
    expect(adviceKind(calibrationSummary(predictions))).toBe(kind)
  })

  it('calls the same error hopeful or cautious by which way is better', () => {
    const up = many(around(110, 12), { better: 'up' })
    expect(adviceKind(calibrationSummary(up))).toBe('cautious')
    const neither = many(around(110, 12), { better: null })
    expect(adviceKind(calibrationSummary(neither))).toBe('holds')
  })

  it.each([
    [[], /^No locked prediction has an outcome yet\./],
    [many(around(100, 4)), /^4 of 4 outcomes .*: too few to tell\. From 10 predictions on/],
    [
      many([...around(70, 6), ...around(135, 6)]),
      /^0 of 12 outcomes .*, where 80 % was stated: the ranges are too narrow/,
    ],
    [many(around(110, 12)), /^The predictions are steadily optimistic, by 10 % on average/],
    [many(around(90, 12)), /^The outcomes are steadily better than predicted, by 11 % on average/],
    [many(around(100, 20), { confidence: 0.5 }), /where 50 % was stated: the ranges are wider/],
    [many([...around(100, 10), 130, 75]), /the figures do not contradict the stated confidence\.$/],
  ] as const)('is said in one sentence (%#)', (predictions, text) => {
    expect(adviceText(calibrationSummary(predictions))).toMatch(text)
  })
})

describe('groups of predictions', () => {
  it('are by place in the chain and by quarter, in order', () => {
    const later = { step: 2, low: 90, high: 110, lockedAt: '2026-07-01T08:00:00.000Z' }
    const list = [judged(later), judged(), judged({ outcome: 150 })]
    expect(byStep(list)).toMatchObject([
      { label: 'Test 1 of its chain', n: 2, inside: 1, width: 0.4 },
      { label: 'Test 2 of its chain', n: 1, inside: 1, width: expect.closeTo(0.2, 12) },
    ])
    expect(byQuarter(list).map((g) => g.label)).toEqual(['2026, quarter 1', '2026, quarter 3'])
  })
})

describe('judgedPredictions', () => {
  const done = {
    lockedAt: '2026-03-02T07:00:00.000Z',
    lockedById: 'A1',
    ranFrom: '2026-03-02',
    ranTo: '2026-03-15',
    doneAt: '2026-03-16T07:00:00.000Z',
  }
  const rows = [observation({ at: '2026-03-09', numerator: 30, denominator: 40 })]
  const data = [{ measure: measure(), observations: rows }]

  it('are those of tests whose Do is over, with their place in the chain', () => {
    const first = { cycle: cycle(done), predictions: [prediction()] }
    const second = {
      cycle: cycle({ ...done, id: 'C2', buildsOnId: 'C1', lockedAt: '2026-03-01T07:00:00.000Z' }),
      predictions: [prediction({ cycleId: 'C2' })],
    }
    const { predictions, hindsight } = judgedPredictions([first, second], [first, second], data)
    expect(predictions.map((p) => [p.cycleId, p.step, p.outcome])).toEqual([
      ['C2', 2, 0.75],
      ['C1', 1, 0.75],
    ])
    expect(hindsight).toBe(0)
    expect(JSON.stringify(predictions)).not.toContain('A1')
  })

  it('are not those that run, that saw nothing, or whose data came before the lock', () => {
    const judge = (own: object, observations = rows) => {
      const tests = [{ cycle: cycle({ ...done, ...own }), predictions: [prediction()] }]
      return judgedPredictions(tests, tests, [{ measure: measure(), observations }])
    }
    expect(judge({ doneAt: null }).predictions).toEqual([])
    expect(judge({}, []).predictions).toEqual([])
    const late = judge({ lockedAt: '2026-03-10T07:00:00.000Z' })
    expect(late).toEqual({ predictions: [], hindsight: 1 })
  })

  it('puts exercises apart, with their own hindsight', () => {
    const test = (id: string, determination: 'improvement' | 'exercise') => ({
      cycle: cycle({ id, rampId: id, determination, ...done }),
      predictions: [prediction({ id: `R${id}`, cycleId: id })],
    })
    const tests = [test('C1', 'improvement'), test('C2', 'exercise')]
    const apart = judgedApart(tests, tests, data)
    expect(apart.predictions.map((p) => p.cycleId)).toEqual(['C1'])
    expect(apart.exercises.predictions.map((p) => p.cycleId)).toEqual(['C2'])
    expect(judgedPredictions(tests, tests, data).predictions).toHaveLength(2)
  })
})
