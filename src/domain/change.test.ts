import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createRandom } from '../stats/special/random.ts'
import { changeBetween, placeValue } from './change.ts'
import type { DataKind } from './record.ts'
import { type StudyPoint, studyPoints } from './study-points.ts'

const day = (i: number) => new Date(Date.UTC(2026, 0, 1 + 3 * i)).toISOString().slice(0, 10)
const values = (list: readonly number[], from = 0): StudyPoint[] =>
  list.map((value, i) => ({ at: day(from + i), value, numerator: null, denominator: 1 }))
const counts = (list: readonly (readonly [number, number])[], from = 0): StudyPoint[] =>
  list.map(([top, bottom], i) => ({
    at: day(from + i),
    value: top / bottom,
    numerator: top,
    denominator: bottom,
  }))
const kind = (dataKind: DataKind) => ({ dataKind })
const steady = [61, 58, 63, 60, 57, 62, 59, 64, 60, 58, 61, 62]

describe('changeBetween', () => {
  it('gives Newcombe’s interval for shares: 56/70 against 48/80 (Newcombe 1998, Table II, example a)', () => {
    const change = changeBetween(kind('classified'), counts([[48, 80]]), counts([[56, 70]], 1))
    expect(change).toMatchObject({ kind: 'difference', method: 'newcombe', doubt: 'few-points' })
    expect(change.estimate).toBeCloseTo(0.2, 12)
    // Printed: +0.0524 to +0.3339.
    expect(change.interval!.lower).toBeCloseTo(0.0524, 4)
    expect(change.interval!.upper).toBeCloseTo(0.3339, 4)
  })

  it('gives the exact conditional interval for rates', () => {
    const change = changeBetween(kind('rates'), counts([[21, 3011]]), counts([[11, 800]], 1))
    expect(change).toMatchObject({ kind: 'ratio', method: 'conditional-ratio' })
    // R 4.2.2, poisson.test(c(11, 21), c(800, 3011)), from its documentation.
    expect(change.interval!.lower).toBeCloseTo(0.858264, 3)
    expect(change.interval!.upper).toBeCloseTo(4.277268, 3)
  })

  it('widens the interval where points spread more than their counts explain', () => {
    const even = Array.from({ length: 12 }, () => [20, 100] as const)
    const spread = Array.from({ length: 12 }, (_, i) => [i % 2 === 0 ? 5 : 35, 100] as const)
    const test = counts(
      [
        [20, 100],
        [18, 100],
        [22, 100],
      ],
      12,
    )
    const narrow = changeBetween(kind('classified'), counts(even), test)
    const wide = changeBetween(kind('classified'), counts(spread), test)
    expect(narrow.widened).toBe(1)
    expect(wide.widened).toBeGreaterThan(1.5)
    expect(wide.interval!.lower).toBeLessThan(narrow.interval!.lower)
  })

  it('compares positive values as a ratio, values with a zero as a difference', () => {
    const lower = steady.map((v) => v * 0.5)
    expect(changeBetween(kind('single'), values(steady), values(lower, 12))).toMatchObject({
      kind: 'ratio',
      method: 'welch-log',
      claim: 'down',
    })
    const zero = changeBetween(kind('single'), values(steady), values([0, ...lower], 12))
    expect(zero).toMatchObject({ kind: 'difference', method: 'welch' })
  })

  it('re-deals the values where either side has fewer than 8', () => {
    const change = changeBetween(kind('single'), values(steady), values([41, 39, 40, 38], 12))
    expect(change).toMatchObject({ method: 'permutation-log', claim: 'down' })
    expect(change.estimate).toBeCloseTo(0.655, 2)
  })

  it('compares gaps between events by their mean: the ratio of exponential means is F', () => {
    const gap = (list: readonly number[], from = 0): StudyPoint[] =>
      list.map((value, i) => ({ at: day(from + i), value, numerator: 1, denominator: value }))
    const change = changeBetween(kind('time-between'), gap([10, 10, 10, 10, 10]), gap([20, 20], 5))
    expect(change).toMatchObject({ kind: 'ratio', method: 'gap-ratio', estimate: 2 })
    // R 4.2.2 from memory: qf(0.975, 4, 10) = 4.468, qf(0.025, 4, 10) = 0.1131.
    expect(change.interval!.lower).toBeCloseTo(2 / 4.468, 3)
    expect(change.interval!.upper).toBeCloseTo(2 / 0.1131, 1)
  })

  it('claims nothing where the baseline was moving already', () => {
    const falling = steady.map((v, i) => v - 3 * i)
    const change = changeBetween(kind('single'), values(falling), values([20, 19, 18, 17], 12))
    expect(change).toMatchObject({ claim: null, doubt: 'drift', interval: null })
  })

  it('claims nothing where a drift through both stretches would look the same', () => {
    const random = createRandom(5)
    const course = Array.from({ length: 14 }, (_, i) => 60 - 1.2 * i + 5 * random.normal())
    const change = changeBetween(
      kind('single'),
      values(course.slice(0, 7)),
      values(course.slice(7), 7),
    )
    expect(change.claim).toBeNull()
  })

  it('says that points which never differ allow no margin', () => {
    const same = Array.from({ length: 10 }, () => 5)
    const change = changeBetween(kind('single'), values(same), values(same, 10))
    expect(change).toMatchObject({ claim: null, doubt: 'no-spread' })
  })

  it('says nothing without points on both sides', () => {
    expect(changeBetween(kind('single'), [], values([1]))).toMatchObject({
      estimate: null,
      doubt: 'few-points',
    })
  })

  it('never claims a change for three values that an exact test at 5 % does not reject', () => {
    const value = fc.double({ min: 0.1, max: 100, noNaN: true })
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 1, maxLength: 12 }),
        fc.array(value, { minLength: 3, maxLength: 3 }),
        (before, test) => {
          const change = changeBetween(kind('single'), values(before), values(test, before.length))
          if (change.claim === null) return true
          // Counted here one by one: deals whose three logs sum at least as far out on the same side.
          const logs = [...before, ...test].map(Math.log)
          const n = logs.length
          const seen = test.reduce((sum, v) => sum + Math.log(v), 0)
          let deals = 0
          let extreme = 0
          for (let i = 0; i < n; i++)
            for (let j = i + 1; j < n; j++)
              for (let k = j + 1; k < n; k++) {
                const sum = logs[i]! + logs[j]! + logs[k]!
                deals++
                if (change.claim === 'down' ? sum <= seen + 1e-9 : sum >= seen - 1e-9) extreme++
              }
          return extreme / deals <= 0.025 + 1e-12
        },
      ),
      { numRuns: 300, seed: 11 },
    )
  })

  it('turns round with the better direction left out: swapping up and down swaps the claim', () => {
    const up = changeBetween(
      kind('single'),
      values(steady),
      values(
        steady.map((v) => v * 2),
        12,
      ),
    )
    const down = changeBetween(
      kind('single'),
      values(steady),
      values(
        steady.map((v) => v / 2),
        12,
      ),
    )
    expect([up.claim, down.claim]).toEqual(['up', 'down'])
    expect(up.estimate! * down.estimate!).toBeCloseTo(1, 12)
  })
})

describe('placeValue', () => {
  it('places one value on the range of the next: mean ± t(n − 1) s √(1 + 1/n) on logs', () => {
    const logs = steady.map(Math.log)
    const mean = logs.reduce((a, b) => a + b, 0) / 12
    const sd = Math.sqrt(logs.reduce((s, v) => s + (v - mean) ** 2, 0) / 11)
    // t table: t(11, 0.975) = 2.201.
    const upper = Math.exp(mean + 2.201 * sd * Math.sqrt(1 + 1 / 12))
    const placed = placeValue(values(steady), values([80], 12))!
    expect(placed.upper).toBeCloseTo(upper, 2)
    expect(placed.where).toBe('above')
    expect(placeValue(values(steady), values([60], 12))!.where).toBe('inside')
    expect(placeValue(values(steady), values([40], 12))!.where).toBe('below')
  })

  it('places nothing with fewer than five values before, several in the test, or no spread', () => {
    expect(placeValue(values([1, 2, 3, 4]), values([9], 4))).toBeNull()
    expect(placeValue(values(steady), values([60, 61], 12))).toBeNull()
    expect(placeValue(values([5, 5, 5, 5, 5]), values([5], 5))).toBeNull()
  })
})

describe('studyPoints', () => {
  it('adds up shares of one date, keeps single values apart, and leaves out what is missing', () => {
    const row = (own: object) => ({
      id: String(Math.random()),
      measureId: 'M1',
      cycleId: null,
      trialId: null,
      at: '2026-03-02',
      value: null,
      numerator: null,
      denominator: null,
      note: '',
      leftOutReason: null,
      version: 1,
      ...own,
    })
    const shares = [
      row({ numerator: 1, denominator: 4 }),
      row({ numerator: 2, denominator: 4 }),
      row({ numerator: 3, denominator: 0 }),
      row({ numerator: 4, denominator: 4, leftOutReason: 'Strike' }),
    ]
    expect(studyPoints({ dataKind: 'classified', per: 1 }, shares)).toEqual([
      { at: '2026-03-02', value: 3 / 8, numerator: 3, denominator: 8 },
    ])
    const singles = [row({ value: 60 }), row({ value: 70 }), row({})]
    expect(studyPoints({ dataKind: 'single', per: 1 }, singles)).toHaveLength(2)
    expect(studyPoints({ dataKind: 'subgrouped', per: 1 }, singles)[0]!.value).toBe(65)
  })
})
