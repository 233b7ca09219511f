import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  cycle,
  decision,
  measure,
  observation,
  phase,
  prediction,
} from '../../tests/support/records.ts'
import { observationsOfTest, outcomesOf, summarize, verdictOf } from './outcome.ts'

const ran = cycle({
  lockedAt: '2026-03-02T09:00:00.000Z',
  ranFrom: '2026-03-02',
  ranTo: '2026-03-15',
})
const week = (at: string, numerator: number, denominator: number, own = {}) =>
  observation({ at, numerator, denominator, ...own })

const before = [week('2026-02-16', 20, 40), week('2026-02-23', 18, 38)]
const during = [week('2026-03-02', 15, 20), week('2026-03-09', 16, 22)]
const after = [week('2026-03-16', 1, 20)]
const data = { measure: measure(), observations: [...before, ...during, ...after], phases: [] }
const test = { cycle: ran, predictions: [prediction()] }

describe('observationsOfTest', () => {
  it('takes what is dated within the days the test ran, ends included', () => {
    expect(observationsOfTest(ran, data.observations)).toEqual(during)
  })

  it('takes what was collected for the test whatever its date, and nothing of another test', () => {
    const own = week('2026-01-01', 1, 2, { cycleId: 'C1' })
    const other = week('2026-03-05', 1, 2, { cycleId: 'C9' })
    expect(observationsOfTest(ran, [own, other])).toEqual([own])
  })

  it('takes nothing before the lock, and nothing that is left out', () => {
    expect(observationsOfTest(cycle(), data.observations)).toEqual([])
    expect(
      observationsOfTest(ran, [week('2026-03-03', 1, 2, { leftOutReason: 'Strike' })]),
    ).toEqual([])
  })

  it('runs on while the last day is open', () => {
    expect(observationsOfTest({ ...ran, ranTo: null }, data.observations)).toHaveLength(3)
  })

  it('counts a date-time on the last day', () => {
    const late = week('2026-03-15T23:30:00.000Z', 1, 2)
    expect(observationsOfTest(ran, [late])).toEqual([late])
  })
})

describe('summarize', () => {
  it('pools shares: 31 of 42, not the mean of the weekly shares', () => {
    expect(summarize(measure(), during)).toEqual({
      n: 2,
      value: 31 / 42,
      numerator: 31,
      denominator: 42,
      from: '2026-03-02',
      to: '2026-03-09',
    })
  })

  it('scales rates', () => {
    const falls = measure({ dataKind: 'rates', per: 1000 })
    expect(summarize(falls, [week('2026-03-02', 3, 600), week('2026-03-09', 1, 400)]).value).toBe(4)
  })

  it('averages single values and skips what is missing or has no denominator', () => {
    const times = measure({ dataKind: 'single' })
    const values = [60, null, 90].map((value, i) => observation({ at: `2026-03-0${i + 1}`, value }))
    expect(summarize(times, values)).toMatchObject({ n: 2, value: 75, numerator: null })
    expect(summarize(measure(), [week('2026-03-02', 0, 0)])).toMatchObject({ n: 0, value: null })
  })

  it('lies between the smallest and the largest share it pools', () => {
    const share = fc.tuple(fc.nat(50), fc.nat(50)).map(([a, b]) => [a, a + b + 1] as const)
    fc.assert(
      fc.property(fc.array(share, { minLength: 1, maxLength: 20 }), (shares) => {
        const { value } = summarize(
          measure(),
          shares.map(([a, n], i) => week(`2026-03-${10 + i}`, a, n)),
        )
        const all = shares.map(([a, n]) => a / n)
        expect(value).toBeGreaterThanOrEqual(Math.min(...all) - 1e-12)
        expect(value).toBeLessThanOrEqual(Math.max(...all) + 1e-12)
      }),
    )
  })
})

describe('verdictOf', () => {
  it.each([
    [0.6, 'up', 'inside'],
    [0.8, 'up', 'inside'],
    [0.81, 'up', 'better'],
    [0.59, 'up', 'worse'],
    [0.81, 'down', 'worse'],
    [0.59, 'down', 'better'],
    [0.81, null, 'above'],
    [0.59, null, 'below'],
    [null, 'up', null],
  ] as const)('%s where better is %s is %s', (outcome, better, verdict) => {
    expect(verdictOf({ low: 0.6, high: 0.8 }, better, outcome)).toBe(verdict)
  })

  it('takes a share reached by division for the same as one typed', () => {
    expect(verdictOf({ low: 0.1 + 0.2, high: 1 }, 'up', 0.3)).toBe('inside')
  })
})

describe('outcomesOf', () => {
  it('holds prediction, outcome, what was before and the test before side by side', () => {
    const first = cycle({
      id: 'C0',
      number: 1,
      lockedAt: '2026-02-16T09:00:00.000Z',
      ranFrom: '2026-02-16',
      ranTo: '2026-02-17',
    })
    const second = { ...test, cycle: { ...ran, number: 2, buildsOnId: 'C0' } }
    const siblings = [
      { cycle: first, predictions: [prediction({ cycleId: 'C0' })], decision: decision() },
    ]
    const [o] = outcomesOf(second, [data], siblings)
    expect(o).toMatchObject({
      verdict: 'inside',
      outcome: { n: 2, numerator: 31, denominator: 42 },
      before: { n: 2, numerator: 38, denominator: 78, to: '2026-02-23' },
      previous: { number: 1, outcome: { n: 1, value: 0.5 } },
      datedBeforeLock: 0,
    })
    expect(o!.error!.kind).toBe('difference')
    expect(o!.error!.value).toBeCloseTo(31 / 42 - 0.7, 12)
  })

  it('compares with the phase that ran when the test began, up to where it is frozen', () => {
    const longAgo = week('2025-06-02', 1, 40)
    const phases = [
      phase({ startsAt: '2026-01-01', frozenThrough: '2026-02-20' }),
      phase({ id: 'F2', startsAt: '2026-03-09' }),
    ]
    const [o] = outcomesOf(
      test,
      [{ ...data, observations: [longAgo, ...data.observations], phases }],
      [],
    )
    expect(o!.before).toMatchObject({ n: 1, numerator: 20 })
  })

  it('gives the error of a duration or rate as a ratio', () => {
    const times = measure({ dataKind: 'single', valueFormat: 'duration', better: 'down' })
    const trial = observation({ at: '2026-03-03', value: 44, cycleId: 'C1' })
    const [o] = outcomesOf(
      { ...test, predictions: [prediction({ expected: 55, low: 38, high: 60 })] },
      [{ measure: times, observations: [trial], phases: [] }],
      [],
    )
    expect(o).toMatchObject({ error: { kind: 'ratio', value: 0.8 }, verdict: 'inside' })
  })

  it('counts observations dated before the lock', () => {
    const late = { ...test, cycle: { ...ran, lockedAt: '2026-03-05T09:00:00.000Z' } }
    expect(outcomesOf(late, [data], [])[0]!.datedBeforeLock).toBe(1)
  })

  it('puts a balancing measure that came out worse first', () => {
    const falls = measure({ id: 'M2', role: 'balancing', better: 'down', name: 'Falls' })
    const worse = {
      ...data,
      measure: falls,
      observations: during.map((o) => ({ ...o, measureId: 'M2' })),
    }
    const both = [prediction(), prediction({ id: 'R2', measureId: 'M2', low: 0, high: 0.1 })]
    const names = outcomesOf({ ...test, predictions: both }, [data, worse], []).map(
      (o) => o.measure.name,
    )
    expect(names).toEqual(['Falls', 'Summaries sent within 24 hours'])
  })
})
