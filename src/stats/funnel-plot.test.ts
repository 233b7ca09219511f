import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { binomialFunnelLimit, poissonFunnelLimit } from './funnel-limits.ts'
import { funnelPlot } from './funnel-plot.ts'

const PROBABILITIES = [0.001, 0.025, 0.975, 0.999]

describe('EF9 exact funnel limits', () => {
  /** Spiegelhalter (2005), Stat Med 24:1185, appendix A.1.1, recomputed with SciPy. Target 0.022 is that of a published surgery register. */
  it.each([
    {
      n: 100,
      target: 0.05,
      limits: [0, 0.006122931436071916, 0.09190734402387492, 0.12463849543796998],
    },
    { n: 50, target: 0.022, limits: [0, 0, 0.0597786596723, 0.0989315923256] },
    {
      n: 584,
      target: 0.022,
      limits: [0.00496587000624, 0.0100521784675, 0.033830851421, 0.0421799918015],
    },
    {
      n: 1000,
      target: 0.022,
      limits: [0.00856068622735, 0.0128744084731, 0.031016180877, 0.0371317089607],
    },
    { n: 50, target: 0.1, limits: [0, 0.0138629269573, 0.179722727623, 0.240128418752] },
    {
      n: 584,
      target: 0.1,
      limits: [0.0627809709519, 0.0754783557609, 0.12414652053, 0.139425652887],
    },
    {
      n: 50,
      target: 0.5,
      limits: [0.272770827668, 0.350702291802, 0.629297708198, 0.707229172332],
    },
    {
      n: 3000,
      target: 0.5,
      limits: [0.471628337036, 0.481941088302, 0.517725578365, 0.528038329631],
    },
  ])('gives the binomial limits of $n cases at $target', ({ n, target, limits }) => {
    PROBABILITIES.forEach((p, i) => {
      expect(binomialFunnelLimit(n, target, p)).toBeCloseTo(limits[i]!, 10)
    })
  })

  it.each([
    { expected: 5, limits: [0, 0.108413159103, 1.87531171753, 2.55427075633] },
    { expected: 100, limits: [0.700652842648, 0.803663371217, 1.19580894852, 1.31804750398] },
  ])('gives the Poisson limits of $expected expected events', ({ expected, limits }) => {
    PROBABILITIES.forEach((p, i) => {
      expect(poissonFunnelLimit(expected, 1, p)).toBeCloseTo(limits[i]!, 10)
    })
  })

  it('mirrors at a target of a half (one count lower, as F(k) = 1 − F(n − 1 − k)), rises with p, and closes on the target', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 20_000 }),
        fc.double({ min: 0.001, max: 0.499, noNaN: true }),
        (n, p) => {
          const low = binomialFunnelLimit(n, 0.5, p)
          const high = binomialFunnelLimit(n, 0.5, 1 - p)
          expect(low).toBeLessThanOrEqual(high)
          if (low > 0) expect(high).toBeCloseTo(1 - 1 / n - low, 7)
        },
      ),
    )
    expect(binomialFunnelLimit(1e8, 0.3, 0.999)).toBeCloseTo(0.3, 3)
  })

  it('answers at a target of 0, 1 and without expected events', () => {
    expect(binomialFunnelLimit(10, 0, 0.999)).toBeLessThanOrEqual(0.1)
    expect(binomialFunnelLimit(10, 1, 0.001)).toBeLessThanOrEqual(1)
    expect(() => poissonFunnelLimit(0, 1, 0.5)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})

describe('EF9 over-dispersion', () => {
  /** Twelve made-up units; figures recomputed from Spiegelhalter (2005), sections 3.1–3.4. */
  const events = [7, 12, 30, 9, 41, 22, 15, 60, 18, 5, 27, 33]
  const cases = [310, 540, 1102, 505, 1250, 980, 700, 1420, 890, 260, 860, 1010]
  const units = events.map((numerator, i) => ({ numerator, denominator: cases[i]! }))

  it('winsorises by rank and finds phi and tau', () => {
    const funnel = funnelPlot(units)
    expect(funnel.target).toBeCloseTo(0.0283911671924, 12)
    expect(funnel.phiRaw).toBeCloseTo(1.69806867701, 10)
    expect(funnel.phi).toBeCloseTo(0.938246869468, 10)
    expect(funnel.tauSquared / 8.06293781421e-7).toBeCloseTo(1, 8)
    expect(funnel.points[7]!.z).toBeCloseTo(3.14516768253, 9)
    expect(funnel.overdispersed).toBe(false)
    expect(funnelPlot(units, { winsorize: 0 }).tauSquared / 2.91952576874e-5).toBeCloseTo(1, 8)
  })

  it('never narrows the limits where phi is below 1', () => {
    const [first] = funnelPlot(units, { widening: 'multiplicative' }).points
    expect(first!.limits[0]!.lower).toBeCloseTo(0.00990254300137, 10)
    expect(first!.limits[0]!.upper).toBeCloseTo(0.0468797913835, 10)
  })

  it('adds the variance between units', () => {
    const { points } = funnelPlot(units, { widening: 'additive' })
    expect(points[0]!.zUsed).toBeCloseTo(-0.613196855452, 9)
    expect(points[7]!.zUsed).toBeCloseTo(3.08186062879, 9)
  })

  it('finds units alike that are', () => {
    const alike = [10, 11, 9, 12, 10, 8, 11, 10, 9, 10].map((numerator) => ({
      numerator,
      denominator: 100,
    }))
    const funnel = funnelPlot(alike)
    expect(funnel.phi).toBeCloseTo(0.0666666666667, 10)
    expect(funnel.tauSquared).toBe(0)
  })

  it('calls for widening where units differ by far more than chance', () => {
    const apart = Array.from({ length: 20 }, (_, i) => ({
      numerator: i % 2 ? 300 : 200,
      denominator: 1000,
    }))
    const funnel = funnelPlot(apart, { widening: 'multiplicative' })
    expect(funnel.overdispersed).toBe(true)
    for (const p of funnel.points) expect(Math.abs(p.zUsed)).toBeLessThan(1.1)
  })

  it('does not mind the order of the units, and widens with the level', () => {
    const unit = fc
      .integer({ min: 5, max: 500 })
      .chain((n) =>
        fc.record({ numerator: fc.integer({ min: 1, max: n - 1 }), denominator: fc.constant(n) }),
      )
    fc.assert(
      fc.property(
        fc.array(unit, { minLength: 2, maxLength: 15 }),
        fc.constantFrom('none' as const, 'additive' as const, 'multiplicative' as const),
        (list, widening) => {
          const one = funnelPlot(list, { widening })
          const two = funnelPlot([...list].reverse(), { widening })
          expect(two.phi).toBeCloseTo(one.phi, 9)
          one.points.forEach((p, i) => {
            expect(two.points[list.length - 1 - i]!.zUsed).toBeCloseTo(p.zUsed, 9)
            const [narrow, wide] = p.limits
            expect(wide!.lower).toBeLessThanOrEqual(narrow!.lower)
            expect(wide!.upper).toBeGreaterThanOrEqual(narrow!.upper)
          })
        },
      ),
    )
  })

  it.each([
    [[{ numerator: 1, denominator: 2 }], {}, 'stats.too_few_points'],
    [
      [
        { numerator: 0, denominator: 2 },
        { numerator: 0, denominator: 5 },
      ],
      {},
      'stats.constant',
    ],
    [
      [
        { numerator: 3, denominator: 2 },
        { numerator: 0, denominator: 5 },
      ],
      {},
      'stats.numerator_over_denominator',
    ],
    [
      [
        { numerator: 1, denominator: 2 },
        { numerator: 0, denominator: 5 },
      ],
      { winsorize: 0.5 },
      'stats.out_of_range',
    ],
    [
      [
        { numerator: 1, denominator: 2 },
        { numerator: 0, denominator: 0 },
      ],
      { kind: 'rate' as const },
      'stats.out_of_range',
    ],
  ])('refuses %j with %j', (list, options, code) => {
    expect(() => funnelPlot(list, options)).toThrow(expect.objectContaining({ code }))
  })
})
