import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clopperPearsonInterval } from './clopper-pearson-interval.ts'
import { binomialCdf } from './special/binomial.ts'
import { wilsonInterval } from './wilson-interval.ts'

/** Newcombe (1998), Stat Med 17:857, table I: printed to 4 decimals. */
const NEWCOMBE = [
  { x: 81, n: 263, wilson: [0.2553, 0.3662], exact: [0.2527, 0.3676] },
  { x: 15, n: 148, wilson: [0.0624, 0.1605], exact: [0.0578, 0.1617] },
  { x: 0, n: 20, wilson: [0, 0.1611], exact: [0, 0.1684] },
  { x: 1, n: 29, wilson: [0.0061, 0.1718], exact: [0.0009, 0.1776] },
]

/** Recomputed from the published definitions with SciPy, to 12 digits. */
const RECOMPUTED = [
  { x: 1, n: 1, wilson: [0.206549314377, 1], exact: [0.025, 1] },
  { x: 0, n: 1, wilson: [0, 0.793450685623], exact: [0, 0.975] },
  { x: 7, n: 10, wilson: [0.396778147461, 0.892208732594], exact: [0.34754714994, 0.933260488822] },
  {
    x: 50,
    n: 1000,
    wilson: [0.0381302623927, 0.0653138202443],
    exact: [0.0373353976047, 0.0653904879155],
  },
  {
    x: 999,
    n: 1000,
    wilson: [0.994357441402, 0.999823453629],
    exact: [0.99444107572, 0.999974682513],
  },
]

const fraction = fc
  .integer({ min: 1, max: 100_000 })
  .chain((n) => fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n)))

describe('IN1 Wilson interval', () => {
  it.each(NEWCOMBE)('prints the limits of Newcombe, table I, for $x of $n', ({ x, n, wilson }) => {
    const { lower, upper } = wilsonInterval(x, n)
    expect(lower.toFixed(4)).toBe(wilson[0]!.toFixed(4))
    expect(upper.toFixed(4)).toBe(wilson[1]!.toFixed(4))
  })

  it.each(RECOMPUTED)('matches the definition for $x of $n', ({ x, n, wilson }) => {
    const { lower, upper } = wilsonInterval(x, n)
    expect(lower).toBeCloseTo(wilson[0]!, 11)
    expect(upper).toBeCloseTo(wilson[1]!, 11)
  })

  it('holds the estimate and mirrors when yes and no change places', () => {
    fc.assert(
      fc.property(fraction, fc.double({ min: 0.01, max: 0.9999, noNaN: true }), ([x, n], level) => {
        const a = wilsonInterval(x, n, level)
        const b = wilsonInterval(n - x, n, level)
        expect(a.lower).toBeLessThanOrEqual(a.estimate)
        expect(a.upper).toBeGreaterThanOrEqual(a.estimate)
        expect(a.lower).toBeGreaterThanOrEqual(0)
        expect(a.upper).toBeLessThanOrEqual(1)
        expect(b.upper).toBeCloseTo(1 - a.lower, 12)
      }),
    )
  })

  it('is exactly 0 below and 1 above where nothing or everything has the feature', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e9 }), (n) => {
        expect(wilsonInterval(0, n).lower).toBe(0)
        expect(wilsonInterval(n, n).upper).toBe(1)
      }),
    )
  })

  it('narrows onto the share as n grows', () => {
    let width = 1
    for (const n of [10, 1e3, 1e6, 1e9]) {
      const { lower, upper } = wilsonInterval(0.3 * n, n)
      expect(upper - lower).toBeLessThan(width)
      width = upper - lower
    }
    expect(width).toBeLessThan(6e-5)
  })

  it.each([
    [3, 2, 0.95, 'stats.numerator_over_denominator'],
    [Number.NaN, 2, 0.95, 'stats.not_finite'],
    [1, Infinity, 0.95, 'stats.not_finite'],
    [-1, 2, 0.95, 'stats.out_of_range'],
    [0.5, 2, 0.95, 'stats.out_of_range'],
    [0, 0, 0.95, 'stats.out_of_range'],
    [1, 2, 95, 'stats.out_of_range'],
    [1, 2, 1, 'stats.out_of_range'],
    [1, 2, Number.NaN, 'stats.not_finite'],
  ])('refuses %s of %s at level %s', (x, n, level, code) => {
    for (const f of [wilsonInterval, clopperPearsonInterval]) {
      expect(() => f(x, n, level)).toThrow(expect.objectContaining({ code }))
    }
  })
})

describe('IN2 Clopper–Pearson interval', () => {
  it.each(NEWCOMBE)('prints the limits of Newcombe, table I, for $x of $n', ({ x, n, exact }) => {
    const { lower, upper } = clopperPearsonInterval(x, n)
    expect(lower.toFixed(4)).toBe(exact[0]!.toFixed(4))
    expect(upper.toFixed(4)).toBe(exact[1]!.toFixed(4))
  })

  it.each(RECOMPUTED)('matches the definition for $x of $n', ({ x, n, exact }) => {
    const { lower, upper } = clopperPearsonInterval(x, n)
    expect(lower).toBeCloseTo(exact[0]!, 10)
    expect(upper).toBeCloseTo(exact[1]!, 10)
  })

  it('leaves exactly half of alpha beyond each limit', () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 2, max: 500 })
          .chain((n) => fc.tuple(fc.integer({ min: 1, max: n - 1 }), fc.constant(n))),
        ([x, n]) => {
          const { lower, upper } = clopperPearsonInterval(x, n, 0.9)
          expect(1 - binomialCdf(x - 1, n, lower)).toBeCloseTo(0.05, 9)
          expect(binomialCdf(x, n, upper)).toBeCloseTo(0.05, 9)
        },
      ),
    )
  })

  it('answers at once for a billion cases', () => {
    const { lower, upper } = clopperPearsonInterval(300_000_000, 1_000_000_000)
    expect(lower).toBeCloseTo(0.3, 4)
    expect(upper).toBeCloseTo(0.3, 4)
    expect(lower).toBeLessThan(upper)
  })
})
