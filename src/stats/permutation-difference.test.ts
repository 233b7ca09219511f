import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { permutationDifference } from './permutation-difference.ts'

/** Mandible lengths of golden jackals, mm: Higham et al. (1980), in Manly (1991), Randomization Tests, table 1.1. */
const MALES = [120, 107, 110, 116, 114, 111, 113, 117, 114, 112]
const FEMALES = [110, 111, 107, 108, 110, 105, 107, 106, 111, 111]

describe('IN7 permutation', () => {
  it('looks at all 184,756 deals of the jackals, 616 of them as far apart (counted with NumPy)', () => {
    const { estimate, p, deals, exact } = permutationDifference(MALES, FEMALES)
    expect(estimate).toBeCloseTo(4.8, 12)
    expect(exact).toBe(true)
    expect(deals).toBe(184_756)
    expect(p * deals).toBeCloseTo(616, 6)
  })

  it('comes near the exact answer with seeded random deals, and repeats itself', () => {
    const first = [...MALES, 113, 115]
    const second = [...FEMALES, 108, 109]
    const one = permutationDifference(first, second, { seed: 7 })
    expect(one.exact).toBe(false)
    expect(one.deals).toBe(20_001)
    expect(permutationDifference(first, second, { seed: 7 })).toEqual(one)
    expect(permutationDifference(first, second, { seed: 8 }).p).toBeCloseTo(one.p, 2)
    expect(one.p).toBeGreaterThan(0)
    expect(one.lower).toBeGreaterThan(0)
    expect(one.upper).toBeGreaterThan(one.estimate)
  })

  it('gives limits that hold the shifts the test does not reject', () => {
    const small = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 3, maxLength: 6 })
    fc.assert(
      fc.property(small, small, (a, b) => {
        const { lower, upper, estimate } = permutationDifference(a, b, { level: 0.8 })
        expect(lower).toBeLessThanOrEqual(estimate + 1e-9)
        expect(upper).toBeGreaterThanOrEqual(estimate - 1e-9)
        if (!Number.isFinite(lower)) return
        // Tested at a shift a little outside, the one-sided share is no more than 10 %.
        for (const [shift, side] of [
          [lower - 1e-6, 1],
          [upper + 1e-6, -1],
        ] as const) {
          const moved = a.map((x) => x - shift)
          expect(shareAtLeast(moved, b, side)).toBeLessThanOrEqual(0.1 + 1e-9)
        }
      }),
      { numRuns: 60 },
    )
  })

  it('moves with a shift, follows scale and reversal, and ignores the order of values', () => {
    const small = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 6 })
    fc.assert(
      fc.property(small, small, fc.integer({ min: -30, max: 30 }), (a, b, c) => {
        const plain = permutationDifference(a, b, { level: 0.8 })
        const moved = permutationDifference(
          [...a].reverse().map((x) => x + c),
          b,
          { level: 0.8 },
        )
        const turned = permutationDifference(
          b.map((x) => 2 * x),
          a.map((x) => 2 * x),
          { level: 0.8 },
        )
        expect(moved.estimate).toBeCloseTo(plain.estimate + c, 9)
        expect(moved.lower).toBeCloseTo(plain.lower + c, 9)
        expect(turned.p).toBeCloseTo(plain.p, 12)
        expect(turned.upper).toBeCloseTo(-2 * plain.lower, 9)
      }),
      { numRuns: 60 },
    )
  })

  it('says that two groups of two are too small for 95 % by giving no limits', () => {
    expect(permutationDifference([1, 2], [8, 9])).toMatchObject({
      lower: -Infinity,
      upper: Infinity,
    })
  })

  it('finds nothing where every value is the same', () => {
    expect(permutationDifference([3, 3, 3], [3, 3, 3])).toMatchObject({ estimate: 0, p: 1 })
  })

  it('refuses a group of one and a bad seed', () => {
    expect(() => permutationDifference([1], [1, 2])).toThrow(
      expect.objectContaining({ code: 'stats.too_few_points' }),
    )
    expect(() => permutationDifference([1, 2], [1, 2], { seed: -1 })).toThrow('The seed is -1')
    expect(() => permutationDifference([1, 2], [1, 2], { draws: 0 })).toThrow('number of draws')
  })
})

/** Share of all deals whose difference is at least as far to one side as the data's, by plain recursion. */
function shareAtLeast(a: readonly number[], b: readonly number[], side: 1 | -1): number {
  const pooled = [...a, ...b]
  const total = pooled.reduce((s, x) => s + x, 0)
  const difference = (sum: number) => sum / a.length - (total - sum) / b.length
  const seen = side * difference(a.reduce((s, x) => s + x, 0))
  let all = 0
  let atLeast = 0
  const deal = (from: number, left: number, sum: number): void => {
    if (left === 0) {
      all++
      if (side * difference(sum) >= seen - 1e-9) atLeast++
      return
    }
    for (let i = from; i <= pooled.length - left; i++) deal(i + 1, left - 1, sum + pooled[i]!)
  }
  deal(0, a.length, 0)
  return atLeast / all
}
