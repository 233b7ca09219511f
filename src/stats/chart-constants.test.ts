import { describe, expect, it } from 'vitest'
import { analyze } from './analyze.ts'
import { chartConstants, meanDeviationFactor, meanRangeFactor } from './chart-constants.ts'

const rows = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))

describe('chart constants', () => {
  // Printed in ISO 7870-2 and most textbooks, to the digits printed; a few printed last digits are
  // known to be off by one (D4 at n = 5), so the exact values are checked to within one in the last place.
  it.each([
    {
      n: 2,
      d2: 1.128,
      d3: 0.853,
      c4: 0.7979,
      A2: 1.88,
      A3: 2.659,
      B3: 0,
      B4: 3.267,
      D3: 0,
      D4: 3.267,
    },
    {
      n: 3,
      d2: 1.693,
      d3: 0.888,
      c4: 0.8862,
      A2: 1.023,
      A3: 1.954,
      B3: 0,
      B4: 2.568,
      D3: 0,
      D4: 2.574,
    },
    {
      n: 5,
      d2: 2.326,
      d3: 0.864,
      c4: 0.94,
      A2: 0.577,
      A3: 1.427,
      B3: 0,
      B4: 2.089,
      D3: 0,
      D4: 2.114,
    },
    {
      n: 7,
      d2: 2.704,
      d3: 0.833,
      c4: 0.9594,
      A2: 0.419,
      A3: 1.182,
      B3: 0.118,
      B4: 1.882,
      D3: 0.076,
      D4: 1.924,
    },
    {
      n: 10,
      d2: 3.078,
      d3: 0.797,
      c4: 0.9727,
      A2: 0.308,
      A3: 0.975,
      B3: 0.284,
      B4: 1.716,
      D3: 0.223,
      D4: 1.777,
    },
    {
      n: 25,
      d2: 3.931,
      d3: 0.708,
      c4: 0.9896,
      A2: 0.153,
      A3: 0.606,
      B3: 0.565,
      B4: 1.435,
      D3: 0.459,
      D4: 1.541,
    },
  ])('CH9: match the printed table at n = $n', ({ n, ...printed }) => {
    const computed = chartConstants(n)
    for (const [name, value] of Object.entries(printed)) {
      expect(Math.abs(computed[name as keyof typeof printed] - value), name).toBeLessThan(0.001)
    }
  })

  it('CH9: agree with closed forms at n = 2, 3 and with independent quadrature at 16 to nine digits', () => {
    const two = chartConstants(2)
    expect(two.d2).toBeCloseTo(2 / Math.sqrt(Math.PI), 12)
    expect(two.d3).toBeCloseTo(Math.sqrt(2 - 4 / Math.PI), 11)
    expect(two.c4).toBeCloseTo(Math.sqrt(2 / Math.PI), 12)
    expect(chartConstants(3).d2).toBeCloseTo(3 / Math.sqrt(Math.PI), 12)
    // NumPy and SciPy quadrature of the same definitions.
    const { d2, d3, c4 } = chartConstants(16)
    expect(d2).toBeCloseTo(3.5319827861095754, 9)
    expect(d3).toBeCloseTo(0.7499080894098953, 9)
    expect(c4).toBeCloseTo(0.9834835316158409, 12)
    // The handbook's approximation c4 = 4(n − 1)/(4n − 3) is within 1e-4 at n = 30.
    expect(meanDeviationFactor(30)).toBeCloseTo(0.991418053293, 10)
    expect(meanDeviationFactor(100)).toBeCloseTo(0.997477976071, 10)
  })

  it('CH9: hold up to n = 1,000', () => {
    let last = 0
    for (const n of [2, 5, 20, 100, 500, 1000]) {
      const { d2, d3, D4, B4 } = chartConstants(n)
      expect(d2).toBeGreaterThan(last)
      last = d2
      expect(d3).toBeGreaterThan(0.3)
      expect(d3).toBeLessThan(0.9)
      expect(D4).toBeGreaterThan(1)
      expect(B4).toBeGreaterThan(1)
    }
    // Tippett 1925, Biometrika 17:364: mean range of 1,000 is 6.48287 sigma (from memory).
    expect(meanRangeFactor(1000)).toBeCloseTo(6.4829, 4)
    expect(() => chartConstants(1)).toThrow(expect.objectContaining({ code: 'stats.out_of_range' }))
  })
})

describe('subgrouped measurements', () => {
  // Piston rings, Montgomery, Introduction to SQC, table 6.3 (from memory; the sum of ranges, 0.581,
  // and the grand mean, 74.001, agree with the printed ones).
  const rings = [
    [30, 2, 19, -8, 8],
    [-5, -8, 1, 11, 4],
    [-12, 24, 21, 5, 2],
    [2, -4, -7, 15, 9],
    [-8, 7, 15, -11, 14],
    [9, -6, -3, -15, -7],
    [-5, 6, -6, 0, 5],
    [-15, 3, -7, 15, -12],
    [8, -5, 9, 5, 4],
    [-2, 0, -10, 7, -5],
    [-6, -2, -6, -5, -10],
    [4, 0, 7, 0, -4],
    [-17, 2, -2, -3, 12],
    [6, -33, -6, 0, -16],
    [12, 14, -2, -1, 7],
    [0, -16, 5, -2, -4],
    [-6, 12, -14, 5, 7],
    [6, 10, 18, 3, 0],
    [-16, 2, 3, 5, -3],
    [0, 10, 13, 20, 3],
    [-18, 1, 15, 5, -4],
    [4, -1, -10, 6, 9],
    [10, -11, -10, 9, 14],
    [15, 8, -7, 0, 10],
    [-18, -16, -5, 17, 13],
  ].map((group) => group.map((thousandths) => 74 + thousandths / 1000))
  const series = { at: rows(25), subgroups: rings }

  it('CH9: X-bar and R match the printed limits 73.988, 74.014 and 0.049', () => {
    const chart = analyze(series, { kind: 'xbar-r' })
    expect(chart.phases[0]!.center).toBeCloseTo(74.001, 3)
    expect(chart.points[0]!.lower).toBeCloseTo(73.988, 3)
    expect(chart.points[0]!.upper).toBeCloseTo(74.0145812813, 8)
    expect(chart.companion!.kind).toBe('r')
    expect(chart.companion!.points[0]!.center).toBeCloseTo(0.02324, 9)
    expect(chart.companion!.points[0]!.upper).toBeCloseTo(0.0491409601321, 8)
    expect(chart.companion!.points.every((p) => !p.beyond)).toBe(true)
    expect(chart.signals.filter((s) => s.rule === 'beyond-limits')).toEqual([])
  })

  it('CH9: X-bar and S follow s̄/c4, and A3, B4 of the table', () => {
    const chart = analyze(series, { kind: 'xbar-s' })
    const sBar =
      rings
        .map((g) => {
          const mean = g.reduce((a, b) => a + b) / 5
          return Math.sqrt(g.reduce((a, b) => a + (b - mean) ** 2, 0) / 4)
        })
        .reduce((a, b) => a + b) / 25
    expect(chart.points[0]!.upper! - chart.phases[0]!.center!).toBeCloseTo(1.4272992929 * sBar, 9)
    expect(chart.companion!.points[0]!.upper).toBeCloseTo(2.0889978686 * sBar, 9)
    expect(chart.companion!.points[0]!.lower).toBe(0)
  })

  it('CH9: limits follow the size where sizes vary, and a subgroup of one has no spread', () => {
    const varied = rings.map((g, i) => (i === 3 ? g.slice(0, 1) : i === 7 ? g.slice(0, 3) : g))
    const chart = analyze({ at: rows(25), subgroups: varied }, { kind: 'xbar-s' })
    const width = (i: number) => chart.points[i]!.upper! - chart.points[i]!.center!
    expect(width(3) / width(0)).toBeCloseTo(Math.sqrt(5), 10)
    expect(width(7) / width(0)).toBeCloseTo(Math.sqrt(5 / 3), 10)
    expect(chart.companion!.points[3]!.value).toBeNull()
    expect(chart.points.slice(2, 5).map((p) => p.size)).toEqual([5, 1, 5])
    expect(chart.phases[0]!.sigma).toBeNull()
  })
})
