import { describe, expect, it } from 'vitest'
import {
  cusumRunLength,
  cusumSignalChances,
  ewmaRunLength,
  ewmaSignalChances,
  oneSidedCusumRunLength,
  oneSidedCusumSignalChances,
} from './cumulative-run-length.ts'
import { simulateSignals } from './simulate-signals.ts'
import { solveLinear } from './solve-linear.ts'

describe('CUSUM run lengths', () => {
  it.each([
    // Montgomery, Introduction to SQC, CUSUM table: 168, 8.38, 465, 139, 38, 10.4 (printed).
    { k: 0.5, h: 4, shift: 0, arl: 167.6837888135437 },
    { k: 0.5, h: 4, shift: 0.5, arl: 26.630203088868342 },
    { k: 0.5, h: 4, shift: 1, arl: 8.383131870495138 },
    { k: 0.5, h: 5, shift: 0, arl: 465.4435060311834 },
    { k: 0.5, h: 5, shift: 0.25, arl: 139.493689772 },
    { k: 0.5, h: 5, shift: 1, arl: 10.375969921593548 },
    { k: 0.5, h: 5, shift: 4, arl: 2.01256752328 },
    // Hawkins 1993: k and h designed for an ARL of 370; h is rounded to two decimals.
    { k: 0.25, h: 8.01, shift: 0, arl: 370.332438709 },
    { k: 1, h: 2.52, shift: 1, arl: 13.5783541197 },
    { k: 1.5, h: 1.61, shift: 2, arl: 3.70537365091 },
  ])('ER5: is $arl for k = $k, h = $h and a shift of $shift', ({ k, h, shift, arl }) => {
    expect(cusumRunLength(k, h, shift) / arl).toBeCloseTo(1, 8)
  })

  it('ER5: one-sided, with a head start of half the limit (Lucas & Crosier 1982)', () => {
    expect(oneSidedCusumRunLength(0.5, 5)).toBeCloseTo(930.8870120623667, 5)
    expect(oneSidedCusumRunLength(0.5, 5, 0, 2.5)).toBeCloseTo(895.834345222, 4)
    expect(oneSidedCusumRunLength(0.5, 5, 1, 2.5)).toBeCloseTo(6.34796582699, 7)
  })
})

describe('CUSUM run length distribution', () => {
  // The mean of a distribution is the sum of its survival: Montgomery's averages once more.
  it.each([
    { k: 0.5, h: 4, shift: 0, arl: 167.6837888135437 },
    { k: 0.5, h: 4, shift: 1, arl: 8.383131870495138 },
    { k: 0.5, h: 5, shift: 0, arl: 465.4435060311834 },
    { k: 1.5, h: 1.61, shift: 2, arl: 3.70537365091 },
  ])('ER5: adds up to $arl for k = $k, h = $h, shift $shift', ({ k, h, shift, arl }) => {
    const survival = cusumSignalChances(k, h, 12_000, shift).reduce((sum, p) => sum + (1 - p), 1)
    expect(survival / arl).toBeCloseTo(1, 8)
  })

  it('ER5: one-sided with a head start, the same average (Lucas & Crosier 1982)', () => {
    const survival = oneSidedCusumSignalChances(0.5, 5, 2000, 1, 2.5).reduce((s, p) => s + 1 - p, 1)
    expect(survival).toBeCloseTo(6.34796582699, 7)
  })

  it('ER5: the first point signals where it alone is more than h + k away', () => {
    expect(cusumSignalChances(0.5, 2.5, 1)[0]).toBeCloseTo(0.0026997960632601866, 12)
    expect(oneSidedCusumSignalChances(0.5, 2.5, 1, 1)[0]).toBeCloseTo(0.02275013194817921, 12)
  })

  it('ER5: agrees with the drawn chart, simulated', () => {
    const options = { k: 0.5, h: 4, target: 0, sigma: 1 }
    const drawn = simulateSignals(
      { kind: 'cusum', ruleSet: 'zone-tests', points: 60, options },
      { charts: 20_000 },
    )
    const exact = cusumSignalChances(0.5, 4, 60)[59]!
    expect(Math.abs(drawn.chance - exact)).toBeLessThan(4 * drawn.standardError)
  })

  it('ER5: grows with every point, and is the same for a shift either way', () => {
    const up = cusumSignalChances(0.5, 4, 200, 0.7)
    const down = cusumSignalChances(0.5, 4, 200, -0.7)
    for (let t = 1; t < 200; t++) expect(up[t]!).toBeGreaterThanOrEqual(up[t - 1]!)
    up.forEach((p, t) => void expect(down[t]).toBeCloseTo(p, 12))
  })

  it('answers soon for the longest and slowest designs', () => {
    const start = performance.now()
    for (const chances of [
      oneSidedCusumSignalChances(0.5, 50, 100_000),
      ewmaSignalChances(0.01, 3, 100_000),
    ]) {
      expect(chances.every((p) => p >= 0 && p <= 1)).toBe(true)
    }
    expect(performance.now() - start).toBeLessThan(10_000)
  }, 30_000)
})

describe('EWMA run lengths', () => {
  it.each([
    // Lucas & Saccucci 1990, table 3 designs for an ARL of 500: 500, 224, 71.2 … (printed).
    { lambda: 0.4, L: 3.054, shift: 0, arl: 499.951338644 },
    { lambda: 0.4, L: 3.054, shift: 0.25, arl: 223.727813267 },
    { lambda: 0.25, L: 2.998, shift: 0, arl: 499.8360035337336 },
    { lambda: 0.25, L: 2.998, shift: 1, arl: 11.13550198032648 },
    { lambda: 0.1, L: 2.814, shift: 0, arl: 499.5795500840947 },
    { lambda: 0.1, L: 2.814, shift: 2, arl: 4.362253413742476 },
    { lambda: 0.05, L: 2.615, shift: 0, arl: 499.933005712 },
    { lambda: 0.05, L: 2.615, shift: 0.5, arl: 28.7637279991 },
    // Crowder 1987: 502.9 for λ = 0.25, L = 3 (printed).
    { lambda: 0.25, L: 3, shift: 0, arl: 502.895169083 },
    { lambda: 1, L: 3, shift: 0, arl: 370.398347345 },
    { lambda: 1, L: 3, shift: 1, arl: 43.8946817185 },
  ])('ER5: is $arl for λ = $lambda, L = $L and a shift of $shift', ({ lambda, L, shift, arl }) => {
    expect(ewmaRunLength(lambda, L, shift) / arl).toBeCloseTo(1, 8)
  })

  it('ER5: chances by point add up to the run length, and fit a simulated chart', () => {
    const chances = ewmaSignalChances(0.2, 2.5, 3000)
    const mean = chances.reduce((sum, p) => sum + (1 - p), 1)
    expect(mean / ewmaRunLength(0.2, 2.5)).toBeCloseTo(1, 4)
    // λ = 1 has no settling: the drawn chart with known limits is the same chart.
    const drawn = simulateSignals(
      {
        kind: 'ewma',
        ruleSet: 'zone-tests',
        points: 40,
        options: { lambda: 1, L: 2, target: 0, sigma: 1 },
      },
      { charts: 20_000 },
    )
    expect(Math.abs(drawn.chance - ewmaSignalChances(1, 2, 40)[39]!)).toBeLessThan(
      4 * drawn.standardError,
    )
  })

  it('refuses designs that make no sense', () => {
    const code = expect.objectContaining({ code: 'stats.out_of_range' })
    expect(() => ewmaRunLength(0, 3)).toThrow(code)
    expect(() => ewmaRunLength(0.2, Number.NaN)).toThrow(code)
    expect(() => ewmaSignalChances(0.2, 3, -1)).toThrow(code)
    expect(() => cusumRunLength(-1, 5)).toThrow(code)
    expect(() => cusumRunLength(0.5, 0)).toThrow(code)
    expect(() => oneSidedCusumRunLength(0.5, 5, 0, 6)).toThrow(code)
    expect(() => oneSidedCusumSignalChances(0.5, 5, 1.5)).toThrow(code)
    expect(() => cusumSignalChances(0.5, 5, 20_001)).toThrow(code)
    expect(() => cusumRunLength(0.5, 5, Number.POSITIVE_INFINITY)).toThrow(code)
  })
})

describe('solveLinear', () => {
  it('solves a system whose first pivot is zero', () => {
    expect(Array.from(solveLinear(Float64Array.of(0, 1, 1, 1), Float64Array.of(2, 5)))).toEqual([
      3, 2,
    ])
  })
})
