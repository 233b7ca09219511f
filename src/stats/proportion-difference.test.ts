import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pairedProportionDifference } from './paired-proportion-difference.ts'
import { proportionDifference } from './proportion-difference.ts'

/** Newcombe (1998), Stat Med 17:873, table II, method 10: printed to 4 decimals. */
const PRINTED: readonly (readonly [number, number, number, number, number, number])[] = [
  [56, 70, 48, 80, 0.0524, 0.3339],
  [9, 10, 3, 10, 0.1705, 0.809],
  [6, 7, 2, 7, 0.0582, 0.8062],
  [5, 56, 0, 29, -0.0381, 0.1926],
  [0, 10, 0, 20, -0.1611, 0.2775],
  [0, 10, 0, 10, -0.2775, 0.2775],
  [10, 10, 0, 20, 0.6791, 1],
  [10, 10, 0, 10, 0.6075, 1],
]

const fraction = fc
  .integer({ min: 1, max: 2000 })
  .chain((n) => fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n)))

describe('IN3 difference of proportions', () => {
  it.each(PRINTED)('prints Newcombe, table II, for %i/%i − %i/%i', (a, m, b, n, low, high) => {
    const { lower, upper } = proportionDifference(a, m, b, n)
    expect(lower.toFixed(4)).toBe(low.toFixed(4))
    expect(upper.toFixed(4)).toBe(high.toFixed(4))
  })

  it('gives the difference before and after chlorine in Vienna', () => {
    // Semmelweis (1861), all months: 2,060 of 19,571 before June 1847, 142 of 6,595 from then on.
    const { estimate, lower, upper } = proportionDifference(142, 6595, 2060, 19_571)
    expect(estimate).toBeCloseTo(-0.0837263161377, 12)
    expect(lower).toBeCloseTo(-0.0891689986739, 12)
    expect(upper).toBeCloseTo(-0.0780514081652, 12)
  })

  it('changes sign when the groups change places, and stays within −1 and 1', () => {
    fc.assert(
      fc.property(fraction, fraction, ([a, m], [b, n]) => {
        const one = proportionDifference(a, m, b, n)
        const two = proportionDifference(b, n, a, m)
        expect(one.lower).toBeCloseTo(-two.upper, 12)
        expect(one.upper).toBeCloseTo(-two.lower, 12)
        expect(one.lower).toBeGreaterThanOrEqual(-1)
        expect(one.upper).toBeLessThanOrEqual(1)
        expect(one.lower).toBeLessThanOrEqual(one.estimate)
        expect(one.upper).toBeGreaterThanOrEqual(one.estimate)
      }),
    )
  })

  it('widens with the level', () => {
    fc.assert(
      fc.property(fraction, fraction, ([a, m], [b, n]) => {
        const narrow = proportionDifference(a, m, b, n, 0.8)
        const wide = proportionDifference(a, m, b, n, 0.99)
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower)
        expect(wide.upper).toBeGreaterThanOrEqual(narrow.upper)
      }),
    )
  })
})

describe('IN3 difference of paired proportions', () => {
  const counts = fc.record({
    both: fc.nat(200),
    firstOnly: fc.nat(200),
    secondOnly: fc.nat(200),
    neither: fc.integer({ min: 1, max: 200 }),
  })

  it('stays within −1 and 1, holds the estimate, and turns over with the order', () => {
    fc.assert(
      fc.property(counts, (c) => {
        const one = pairedProportionDifference(c)
        const two = pairedProportionDifference({
          ...c,
          firstOnly: c.secondOnly,
          secondOnly: c.firstOnly,
        })
        expect(one.lower).toBeCloseTo(-two.upper, 12)
        expect(one.lower).toBeGreaterThanOrEqual(-1)
        expect(one.upper).toBeLessThanOrEqual(1)
        expect(one.lower).toBeLessThanOrEqual(one.estimate + 1e-15)
        expect(one.upper).toBeGreaterThanOrEqual(one.estimate - 1e-15)
      }),
    )
  })

  it('is narrower than for independent groups where pairs resemble each other', () => {
    const paired = pairedProportionDifference({
      both: 40,
      firstOnly: 8,
      secondOnly: 2,
      neither: 50,
    })
    const independent = proportionDifference(48, 100, 42, 100)
    expect(paired.estimate).toBeCloseTo(independent.estimate, 12)
    expect(paired.upper - paired.lower).toBeLessThan((independent.upper - independent.lower) / 2)
  })

  it('refuses no pairs at all, and a count that is not whole', () => {
    const none = { both: 0, firstOnly: 0, secondOnly: 0, neither: 0 }
    expect(() => pairedProportionDifference(none)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
    expect(() => pairedProportionDifference({ ...none, secondOnly: 1.5 })).toThrow('"secondOnly"')
  })
})
