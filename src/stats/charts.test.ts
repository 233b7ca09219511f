import { describe, expect, it } from 'vitest'
import { VIENNA_MONTHS } from '../../tests/reference/vienna-maternity.ts'
import { analyze } from './analyze.ts'
import { poissonDraw } from './chance-draws.ts'
import { dispersionOf } from './laney.ts'
import { geometricLimits, transformedTime } from './rare-limits.ts'
import { createRandom } from './special/random.ts'
import type { AnalyzeOptions, Series } from './types.ts'

const rows = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))
const single = (values: readonly (number | null)[]): Series => ({ at: rows(values.length), values })
const outside = (series: Series, options: AnalyzeOptions) =>
  analyze(series, options)
    .signals.filter((s) => s.rule === 'beyond-limits')
    .flatMap((s) => s.points.map((i) => i + 1))

describe('moving range', () => {
  it('CH2 CH8 CH15: matches the viscosities of Montgomery, example 5-5: mean 0.48, upper limit 1.57', () => {
    const x = [
      33.75, 33.05, 34, 33.81, 33.46, 34.02, 33.68, 33.27, 33.49, 33.2, 33.62, 33, 33.54, 33.12,
      33.84,
    ]
    const chart = analyze(single(x), { kind: 'moving-range' })
    expect(chart.phases[0]!.center).toBeCloseTo(0.480714285714, 10)
    expect(chart.points[0]).toMatchObject({ value: null, lower: 0, observed: 33.75 })
    expect(chart.points[1]!.value).toBeCloseTo(0.7, 10)
    expect(chart.points[1]!.upper).toBeCloseTo(1.57026855834, 9)
    expect(chart.notes.map((n) => n.code)).toContain('limits-only')
    expect(analyze(single(x), { kind: 'individuals' }).companion!.points[1]!.upper).toBeCloseTo(
      1.57026855834,
      9,
    )
  })
})

describe('P′ and U′ (Laney 2002, Qual Eng 14:531)', () => {
  // Made-up counts; the expected sigma_z follows the paper's formula (recomputed with NumPy).
  const p = {
    at: rows(12),
    numerators: [402, 431, 377, 466, 389, 344, 452, 420, 361, 398, 470, 375],
    denominators: [8010, 7950, 8123, 8234, 7988, 8055, 8102, 8190, 7901, 8076, 8140, 8002],
  }
  it('CH10: P′ widens by sigma_z = 2.7134', () => {
    const chart = analyze(p, { kind: 'p-prime' })
    expect(chart.phases[0]!.center).toBeCloseTo(0.0504799991733, 12)
    const sigma = Math.sqrt((0.0504799991733 * (1 - 0.0504799991733)) / 8010)
    expect(chart.points[0]!.upper).toBeCloseTo(0.0504799991733 + 3 * 2.7134299 * sigma, 9)
    expect(chart.points[0]!.lower).toBeCloseTo(0.0504799991733 - 3 * 2.7134299 * sigma, 9)
    expect(outside(p, { kind: 'p-prime' })).toEqual([])
    expect(outside(p, { kind: 'p' })).toEqual([6])
  })
  it('CH16: a P chart of the same counts says so and offers P′', () => {
    const note = analyze(p, { kind: 'p' }).notes.find((n) => n.code === 'over-dispersion')!
    expect(note.text).toContain('differ 2.7 times as much')
    expect(note.text).toMatch(/a P′ chart allows for that\.$/)
  })
  it('CH10: the Vienna months before handwashing have sigma_z = 2.03166', () => {
    const before = VIENNA_MONTHS.filter((m) => m.at < '1847-06-01')
    const series = {
      at: before.map((m) => m.at),
      numerators: before.map((m) => m.deaths),
      denominators: before.map((m) => m.births),
    }
    const half = (kind: 'p' | 'p-prime') => {
      const point = analyze(series, { kind }).points[0]!
      return point.upper! - point.center!
    }
    expect(half('p-prime') / half('p')).toBeCloseTo(2.031661523747197, 10)
  })
  it('CH10: U′ matches, per 1,000 too', () => {
    const u = {
      at: rows(12),
      numerators: [310, 282, 365, 340, 270, 301, 371, 333, 290, 352, 310, 310],
      denominators: [1520, 1490, 1610, 1575, 1480, 1530, 1600, 1555, 1510, 1625, 1520, 1520],
    }
    const z = u.numerators.map((x, i) => {
      const center = u.numerators.reduce((a, b) => a + b) / u.denominators.reduce((a, b) => a + b)
      return (x / u.denominators[i]! - center) / Math.sqrt(center / u.denominators[i]!)
    })
    const ranges = z.slice(1).map((x, i) => Math.abs(x - z[i]!))
    const sigmaZ = ranges.reduce((a, b) => a + b) / 11 / 1.128
    const chart = analyze(u, { kind: 'u-prime', per: 1000 })
    const { center, upper } = chart.points[0]!
    expect(upper).toBeCloseTo(center! + 3 * sigmaZ * 1000 * Math.sqrt(center! / 1000 / 1520), 8)
  })
  it('CH16: finds dispersion where there is none about once in a hundred charts on either side', () => {
    const random = createRandom(17)
    const draw = poissonDraw(25)
    let over = 0
    let under = 0
    const charts = 4000
    for (let c = 0; c < charts; c++) {
      const z = Float64Array.from({ length: 24 }, () => (draw(random) - 25) / 5)
      const { pOver, pUnder } = dispersionOf(z, new Uint8Array(24).fill(1), 0, 24)
      if (pOver < 0.01) over++
      if (pUnder < 0.01) under++
    }
    for (const count of [over, under]) {
      expect(count / charts).toBeGreaterThan(0.003)
      expect(count / charts).toBeLessThan(0.02)
    }
  })
  it('CH16: counts that vary far too little are noted as well', () => {
    const flat = single([9, 10, 9, 10, 9, 10, 9, 10, 9, 10, 9, 10, 9, 10, 9, 10, 9, 10, 9, 10])
    expect(analyze(flat, { kind: 'c' }).notes.map((n) => n.code)).toContain('under-dispersion')
  })
})

describe('rare events', () => {
  it.each([
    { p: 0.01, upper: 657, sigmaUpper: 397.496231132 },
    { p: 0.1, upper: 62, sigmaUpper: 37.4604989415 },
    { p: 0.02, upper: 327, sigmaUpper: 197.492424049 },
  ])('CH11: geometric limits at p = $p (Benneyan 2001 formulas; SciPy 1.10 quantiles)', (row) => {
    const mean = 1 / row.p - 1
    expect(geometricLimits(mean, 'probability')).toMatchObject({ lower: 0, upper: row.upper })
    expect(geometricLimits(mean, 'sigma').upper).toBeCloseTo(row.sigmaUpper, 8)
  })

  it('CH11 CH15: a G chart of cases between events', () => {
    const cases = [5, 22, 17, 3, 61, 40, 8, 2, 13, 29, 31, 0, 7, 19, 55, 24, 12, 1, 9, 36]
    const chart = analyze(single(cases), { kind: 'g' })
    expect(chart.phases[0]).toMatchObject({ n: 20, limits: 'exact' })
    expect(chart.points[0]).toMatchObject({ center: 19.7, lower: 0, upper: 133 })
    expect(analyze(single(cases), { kind: 'g', rareLimits: 'sigma' }).points[0]!.upper).toBeCloseTo(
      80.2814327992,
      9,
    )
    expect(chart.notes.map((n) => n.code)).toEqual(['limits-only'])
  })

  it('CH12: the transform prints as in Montgomery, table 7.14 (valve failures), with power 0.2777', () => {
    // The book uses 0.2777; 1/3.6 differs from it in the fourth digit of the result.
    const hours = [286, 948, 536, 124, 816]
    const printed = [4.80986, 6.70903, 5.7265, 3.81367, 6.43541]
    hours.forEach((t, i) => {
      expect(t ** 0.2777).toBeCloseTo(printed[i]!, 4)
      expect(transformedTime(t)).toBeCloseTo(printed[i]!, 2)
    })
  })

  it('CH12: a T chart is an individuals chart on the transformed scale', () => {
    const days = [
      12.5, 1, 7.1, 24.8, 43.6, 20.8, 11.4, 14.5, 3.1, 7.9, 0.4, 11.8, 6, 23.7, 21.3, 3.2, 1.1, 1.3,
      13.3, 6.1,
    ]
    const chart = analyze(single(days), { kind: 't' })
    // NumPy, from the definition (Nelson 1994, J Qual Technol 26:239).
    expect(chart.points[0]!.center).toBeCloseTo(8.225216737665768, 8)
    expect(chart.points[0]!.upper).toBeCloseTo(78.19171310969125, 6)
    expect(chart.points[0]!.lower).toBeCloseTo(0.005422298159810708, 9)
    const withZero = analyze(single([...days, 0]), { kind: 't' })
    expect(withZero.signals.map((s) => s.rule)).not.toContain('NaN')
    expect(() => analyze(single([1, -1]), { kind: 't' })).toThrow(
      expect.objectContaining({ code: 'stats.negative_time' }),
    )
  })
})

describe('charts on which only the limits are watched', () => {
  it('CH15: watch them whatever bundle is asked for, and not at all without rules', () => {
    const cases = [...Array(20).fill(10), 400]
    for (const ruleSet of ['run-classic', 'eight-tests', 'shewhart-healthcare'] as const) {
      const { signals } = analyze(single(cases), {
        kind: 'g',
        ruleSet,
        phases: [{ at: '1', frozenThrough: '20' }],
      })
      expect(signals.map((s) => [s.rule, ...s.points])).toEqual([['beyond-limits', 20]])
    }
    expect(analyze(single(cases), { kind: 'g', ruleSet: 'none' }).signals).toEqual([])
  })
})

describe('every kind', () => {
  it('GEN9: answers short, flat, gapped and empty series without NaN', () => {
    for (const kind of [
      'run',
      'individuals',
      'moving-range',
      'c',
      'g',
      't',
      'ewma',
      'cusum',
    ] as const) {
      for (const values of [
        [3],
        [null],
        Array(25).fill(4),
        Array(25).fill(0),
        [1, null, 3, null, ...Array(20).fill(2), null],
      ]) {
        expect(JSON.stringify(analyze(single(values), { kind })), kind).not.toMatch(/NaN|Infinity/)
      }
    }
    for (const kind of ['p', 'p-prime', 'u', 'u-prime'] as const) {
      for (const [top, bottom] of [
        [0, 0],
        [0, 10],
        [10, 10],
        [3, 10],
      ] as const) {
        const series = {
          at: rows(25),
          numerators: Array(25).fill(top),
          denominators: Array(25).fill(bottom),
        }
        expect(JSON.stringify(analyze(series, { kind })), kind).not.toMatch(
          /NaN|Infinity|:null,"upper":[0-9]/,
        )
      }
    }
    for (const kind of ['xbar-s', 'xbar-r'] as const) {
      for (const group of [[1], [], [2, 2], [1, 2, 3]]) {
        const series = { at: rows(25), subgroups: Array(25).fill(group) }
        expect(JSON.stringify(analyze(series, { kind })), kind).not.toMatch(/NaN|Infinity/)
      }
    }
  })
})
