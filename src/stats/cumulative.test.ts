import { describe, expect, it } from 'vitest'
import { analyze } from './analyze.ts'
import { cumulativeSums, weightedAverage } from './cumulative.ts'
import type { AnalyzeOptions, Series } from './types.ts'

const rows = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))
const single = (values: readonly (number | null)[]): Series => ({ at: rows(values.length), values })
const outside = (series: Series, options: AnalyzeOptions) =>
  analyze(series, options)
    .signals.filter((s) => s.rule === 'beyond-limits')
    .flatMap((s) => s.points.map((i) => i + 1))

describe('small sustained shifts', () => {
  const ewmaData = [
    52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6,
    52.4, 53.6, 52.1,
  ]

  it('CH13: the EWMA matches NIST/SEMATECH e-Handbook 6.3.2.4', () => {
    const printed = [
      50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52,
      50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
    ]
    const chart = analyze(single(ewmaData), {
      kind: 'ewma',
      lambda: 0.3,
      L: 3,
      target: 50,
      sigma: 2.0539,
    })
    chart.points.forEach((point, i) => {
      expect(Math.abs(point.value! - printed[i]!)).toBeLessThan(0.006)
    })
    // The handbook draws the limits an old chart settles to, 47.4115 and 52.5884.
    expect(chart.points[19]!.upper).toBeCloseTo(52.5884, 3)
    expect(chart.points[0]!.upper).toBeCloseTo(50 + 3 * 2.0539 * 0.3, 10)
    expect(chart.points[0]!.observed).toBe(52)
    expect(chart.signals).toEqual([])
  })

  it('CH13: with λ = 1 it is the individuals chart', () => {
    const { average, upper } = weightedAverage(Float64Array.from(ewmaData), 50, 2, 1, 3)
    expect([...average]).toEqual(ewmaData)
    expect(new Set(upper)).toEqual(new Set([56]))
  })

  it('CH14: the CUSUM matches the e-Handbook 6.3.2.3 example: first signal at point 14', () => {
    const x = [
      324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625,
      325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
    ]
    const { high, low } = cumulativeSums(Float64Array.from(x), 325, 0.3175)
    const printed = [
      0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445,
      16.0025, 19.035,
    ]
    high.forEach((value, i) => {
      expect(value).toBeCloseTo(printed[i]!, 6)
    })
    expect(low[7]).toBeCloseTo(0.715, 6)
    // The handbook gives k and h in the unit of the data: k = 0.5 and h = 4.1959/0.635 sigmas here.
    const options: AnalyzeOptions = {
      kind: 'cusum',
      target: 325,
      sigma: 0.635,
      k: 0.5,
      h: 4.1959 / 0.635,
    }
    const chart = analyze(single(x), options)
    expect(outside(single(x), options)).toEqual([14, 15, 16, 17, 18, 19, 20])
    expect(chart.signals[0]!.direction).toBe('up')
    expect(chart.points[7]).toMatchObject({ center: 0, observed: 324.525 })
    expect(chart.points[7]!.value).toBeCloseTo(-0.715, 6)
  })

  it('CH14: the CUSUM matches Montgomery, table 9.2: signal at period 29, sum 5.28', () => {
    const x = [
      9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.2, 10.34, 9.03, 11.47, 10.51, 9.4,
      10.08, 9.37, 10.62, 10.31, 8.52, 10.84, 10.9, 9.33, 12.29, 11.5, 10.6, 11.08, 10.38, 11.62,
      11.31, 10.52,
    ]
    const options: AnalyzeOptions = { kind: 'cusum', target: 10, sigma: 1 }
    expect(outside(single(x), options)).toEqual([29, 30])
    expect(analyze(single(x), options).points[28]!.sums!.high).toBeCloseTo(5.28, 9)
  })

  it('CH17: limits known beforehand need no points', () => {
    const short = single(ewmaData.slice(0, 5))
    expect(analyze(short, { kind: 'ewma' }).kind).toBe('run')
    for (const kind of ['ewma', 'cusum'] as const) {
      const known = analyze(short, { kind, target: 50, sigma: 2 })
      expect(known.kind).toBe(kind)
      expect(known.phases[0]!.limits).toBe('full')
      expect(known.notes.map((n) => n.code)).toEqual(['limits-only'])
    }
  })

  it('CH13 CH14: a gap leaves the average and the sums as they were', () => {
    const gapped = [...ewmaData.slice(0, 10), null, ...ewmaData.slice(10)]
    for (const kind of ['ewma', 'cusum'] as const) {
      const options = { kind, target: 50, sigma: 2 }
      const whole = analyze(single(ewmaData), options).points.map((p) => p.value)
      const split = analyze(single(gapped), options).points.map((p) => p.value)
      expect(split[10]).toBeNull()
      expect(split.toSpliced(10, 1)).toEqual(whole)
    }
  })

  it.each([
    { lambda: 0 },
    { lambda: 1.1 },
    { L: 0 },
    { k: -1 },
    { h: 0 },
    { sigma: 0 },
    { target: Number.NaN },
  ])('refuses $lambda $L $k $h $sigma $target', (options) => {
    expect(() => analyze(single(ewmaData), { kind: 'ewma', ...options })).toThrow(
      expect.objectContaining({ code: 'stats.bad_option' }),
    )
  })
})
