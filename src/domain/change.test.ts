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

  it.each([
    // Newcombe 1998, Stat Med 17:873, Table II, method 10: printed ends.
    { a: [9, 10], b: [3, 10], lower: 0.1705, upper: 0.809 },
    { a: [6, 7], b: [2, 7], lower: 0.0582, upper: 0.8062 },
  ] as const)('gives Newcombe’s interval for $a against $b', ({ a, b, lower, upper }) => {
    const change = changeBetween(kind('classified'), counts([b]), counts([a], 1))
    expect(change).toMatchObject({ method: 'newcombe', claim: null, ifAlone: true })
    expect(change.interval!.lower).toBeCloseTo(lower, 4)
    expect(change.interval!.upper).toBeCloseTo(upper, 4)
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
    // Even counts leave next to no chance that they spread beyond chance.
    expect(narrow.widened).toBeCloseTo(1, 2)
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
    // Seven gaps leave some chance of more spread, so the printed interval is a little wider.
    expect(change.widened).toBeCloseTo(1, 1)
    expect(change.interval!.lower).toBeLessThanOrEqual(2 / 4.468)
    expect(change.interval!.lower).toBeGreaterThan(0.95 * (2 / 4.468))
    expect(change.interval!.upper).toBeGreaterThanOrEqual(2 / 0.1131 - 0.01)
    expect(change.interval!.upper).toBeLessThan(1.06 * (2 / 0.1131))
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

  it.each(['single', 'subgrouped', 'classified', 'rates', 'counts', 'time-between'] as const)(
    '%s: never claims a change for three trials that an exact test at 5 %% does not reject',
    (dataKind) => {
      const value = fc.double({ min: 0.1, max: 100, noNaN: true })
      const pair = fc
        .tuple(fc.nat(60), fc.nat(60))
        .map(([a, b]) => [Math.min(a, b), Math.max(a, b, 1)])
      const counted = dataKind === 'classified' || dataKind === 'rates' || dataKind === 'counts'
      const point = counted
        ? pair.map(([top, bottom]) => {
            const area = dataKind === 'counts' ? 1 : bottom!
            return { at: '', value: top! / area, numerator: top!, denominator: area }
          })
        : value.map((v) => {
            const gap = dataKind === 'time-between'
            return { at: '', value: v, numerator: gap ? 1 : null, denominator: gap ? v : 1 }
          })
      const dated = (list: readonly StudyPoint[], from: number) =>
        list.map((p, i) => ({ ...p, at: day(from + i) }))
      // On the scale the kinds are compared on: logs, arcsine, roots.
      const scaled = (p: StudyPoint) => {
        if (dataKind === 'classified')
          return Math.asin(Math.sqrt((p.numerator! + 3 / 8) / (p.denominator + 3 / 4)))
        if (counted) return Math.sqrt((p.numerator! + 3 / 8) / p.denominator)
        return dataKind === 'time-between' ? p.value ** (1 / 3.6) : Math.log(p.value)
      }
      let claims = 0
      fc.assert(
        fc.property(
          fc.array(point, { minLength: 1, maxLength: 12 }),
          fc.array(point, { minLength: 3, maxLength: 3 }),
          fc.boolean(),
          (earlier, trials, apart) => {
            // Half of the cases far apart, so that claims are among them.
            const lower = (p: StudyPoint): StudyPoint =>
              counted
                ? { ...p, numerator: 0, value: 0 }
                : {
                    ...p,
                    value: p.value / 1000,
                    denominator: p.numerator === 1 ? p.value / 1000 : 1,
                  }
            const before = dated(earlier, 0)
            const test = dated(apart ? trials.map(lower) : trials, before.length)
            const change = changeBetween(kind(dataKind), before, test)
            if (change.claim === null) return true
            claims++
            // Counted here one by one: deals of three points that differ at least as much.
            const all = [...before, ...test].map(scaled)
            const n = all.length
            const total = all.reduce((sum, v) => sum + v, 0)
            const apartBy = (three: number) => Math.abs(three / 3 - (total - three) / (n - 3))
            const seen = apartBy(all.slice(-3).reduce((sum, v) => sum + v, 0))
            let deals = 0
            let extreme = 0
            for (let i = 0; i < n; i++)
              for (let j = i + 1; j < n; j++)
                for (let k = j + 1; k < n; k++) {
                  deals++
                  if (apartBy(all[i]! + all[j]! + all[k]!) >= seen - 1e-9) extreme++
                }
            return extreme / deals <= 0.05
          },
        ),
        { numRuns: 300, seed: 11 },
      )
      expect(claims).toBeGreaterThan(0)
    },
  )

  it('prints what holds if each point stands by itself below 20 points, and judges likeness from there', () => {
    const random = createRandom(3)
    let level = 0
    const swell = Array.from({ length: 40 }, () => {
      level = 0.8 * level + 0.6 * random.normal()
      return 60 + 5 * level
    })
    const few = changeBetween(
      kind('single'),
      values(swell.slice(0, 10)),
      values(swell.slice(10, 19), 10),
    )
    expect(few).toMatchObject({ ifAlone: true, alike: null, method: 'welch-log' })
    expect(few.widened).toBeCloseTo(1, 9)
    const many = changeBetween(
      kind('single'),
      values(swell.slice(0, 28)),
      values(swell.slice(28), 28),
    )
    expect(many.ifAlone).toBe(false)
    expect(many.alike).toBeGreaterThan(0.3)
    expect(many.widened).toBeGreaterThan(1.5)
  })

  it('compares typical gaps where they spread more than those of a steady rate', () => {
    const gap = (list: readonly number[], from = 0): StudyPoint[] =>
      list.map((value, i) => ({ at: day(from + i), value, numerator: 1, denominator: value }))
    const wild = [0.1, 90.5, 0.2, 300.5, 0.1, 45.5, 700.5, 0.3, 0.2, 120.5, 0.1, 60.5]
    const change = changeBetween(
      kind('time-between'),
      gap(wild),
      gap(
        wild.map((v) => 2 * v),
        12,
      ),
    )
    expect(change).toMatchObject({ method: 'gap-root', claim: null })
    expect(change.estimate).toBeCloseTo(2, 12)
    expect(change.widened).toBeGreaterThan(1.2)
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
