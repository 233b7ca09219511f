import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nextBinomialCount, nextPoissonCount } from './next-count-interval.ts'
import { nextMeanInterval, nextValuesInterval } from './next-values-interval.ts'
import { createRandom } from './special/random.ts'
import { studentTQuantile } from './special/student-t.ts'

const baseline = fc
  .array(fc.integer({ min: -500, max: 500 }), { minLength: 3, maxLength: 30 })
  .filter((v) => new Set(v).size > 1)

describe('IN8 next single values', () => {
  it("is Student's t with the factor √(1 + 1/n) for one value (Hahn & Meeker 1991, section 4.8)", () => {
    const { lower, upper } = nextValuesInterval([4, 5, 6, 7, 8])
    const half = -studentTQuantile(0.025, 4) * Math.sqrt(2.5) * Math.sqrt(1.2)
    expect(lower).toBeCloseTo(6 - half, 10)
    expect(upper).toBeCloseTo(6 + half, 10)
  })

  it('widens with k, never beyond Bonferroni, never inside one value', () => {
    fc.assert(
      fc.property(baseline, fc.integer({ min: 2, max: 60 }), (x, k) => {
        const one = nextValuesInterval(x)
        const all = nextValuesInterval(x, k)
        const half = (one.upper - one.lower) / 2
        const bonferroni =
          (half * studentTQuantile(0.025 / k, x.length - 1)) / studentTQuantile(0.025, x.length - 1)
        expect(all.upper - all.estimate).toBeGreaterThan(half)
        expect(all.upper - all.estimate).toBeLessThanOrEqual(bonferroni * (1 + 1e-9))
      }),
      { numRuns: 20 },
    )
  })

  it('holds all of the next five values about as often as it says', () => {
    const random = createRandom(11)
    let held = 0
    for (let i = 0; i < 400; i++) {
      const x = Array.from({ length: 8 }, () => random.normal())
      const { lower, upper } = nextValuesInterval(x, 5, 0.9)
      if (Array.from({ length: 5 }, () => random.normal()).every((v) => v >= lower && v <= upper))
        held++
    }
    expect(held / 400).toBeGreaterThan(0.86)
    expect(held / 400).toBeLessThan(0.94)
  })

  it('moves with a shift and follows scale', () => {
    fc.assert(
      fc.property(baseline, fc.integer({ min: -500, max: 500 }), (x, c) => {
        const plain = nextMeanInterval(x, 4)
        const moved = nextMeanInterval(
          x.map((v) => 2 * v + c),
          4,
        )
        expect(moved.lower).toBeCloseTo(2 * plain.lower + c, 6)
        expect(moved.upper).toBeCloseTo(2 * plain.upper + c, 6)
      }),
    )
  })

  it('refuses a baseline that does not vary', () => {
    expect(() => nextValuesInterval([5, 5, 5])).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
    expect(() => nextValuesInterval([1, 2], 0)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})

describe('IN8 next counts', () => {
  it('holds the next Poisson count at least as often as it says', () => {
    const random = createRandom(3)
    const poisson = (mean: number) => {
      let k = 0
      for (let p = random.uniform(); p > Math.exp(-mean); k++) p *= random.uniform()
      return k
    }
    let held = 0
    for (let i = 0; i < 2000; i++) {
      const { lower, upper } = nextPoissonCount(poisson(12), 6, 2, 0.9)
      const next = poisson(4)
      if (next >= lower && next <= upper) held++
    }
    expect(held / 2000).toBeGreaterThan(0.89)
  })

  it('stays between nothing and everything, and holds what is expected', () => {
    const inputs = fc
      .integer({ min: 1, max: 400 })
      .chain((n) =>
        fc.tuple(fc.integer({ min: 0, max: n }), fc.constant(n), fc.integer({ min: 1, max: 300 })),
      )
    fc.assert(
      fc.property(inputs, ([x, n, m]) => {
        const { lower, upper, expected } = nextBinomialCount(x, n, m)
        expect(lower).toBeGreaterThanOrEqual(0)
        expect(upper).toBeLessThanOrEqual(m)
        expect(lower).toBeLessThanOrEqual(Math.ceil(expected))
        expect(upper).toBeGreaterThanOrEqual(Math.floor(expected))
        const turned = nextBinomialCount(n - x, n, m)
        expect([turned.lower, turned.upper]).toEqual([m - upper, m - lower])
      }),
    )
  })

  it('comes near the Poisson limits when the baseline is long (mean 16: 9 to 24)', () => {
    // Poisson(16): P(X ≤ 8) = 0.0220, P(X ≥ 25) = 0.0223, so the central 95 % range is 9 to 24.
    expect(nextPoissonCount(16_000_000, 1_000_000, 1)).toMatchObject({
      expected: 16,
      lower: 9,
      upper: 24,
    })
  })

  it('answers for a baseline without events', () => {
    expect(nextPoissonCount(0, 10, 10)).toMatchObject({ expected: 0, lower: 0, upper: 5 })
  })
})
