import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { meanAndSd } from './mean-and-sd.ts'
import { meanDifference } from './mean-difference.ts'
import { pairedDifference } from './paired-difference.ts'
import { timeRatio } from './time-ratio.ts'

/** Hours of extra sleep of ten patients under two drugs: Student (1908), Biometrika 6:1. */
const FIRST = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2]
const SECOND = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]

const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 20 })
const varied = values.filter((v) => new Set(v).size > 1)

describe('IN6 Welch', () => {
  it("matches R's printed t.test of Student's sleep data (figures from memory)", () => {
    const { t, df, p, lower, upper } = meanDifference(FIRST, SECOND)
    expect(t).toBeCloseTo(-1.8608, 4)
    expect(df).toBeCloseTo(17.776, 3)
    expect(p).toBeCloseTo(0.07939, 5)
    expect(lower).toBeCloseTo(-3.3654832, 7)
    expect(upper).toBeCloseTo(0.2054832, 7)
  })

  it('changes sign with the groups, follows scale, and ignores a common shift and the order', () => {
    fc.assert(
      fc.property(varied, values, fc.integer({ min: -500, max: 500 }), (a, b, c) => {
        const plain = meanDifference(a, b)
        const other = meanDifference(b, a)
        const moved = meanDifference(
          [...a].reverse().map((x) => 3 * (x + c)),
          b.map((x) => 3 * (x + c)),
        )
        expect(other.lower).toBeCloseTo(-plain.upper, 6)
        expect(moved.lower).toBeCloseTo(3 * plain.lower, 4)
        expect(moved.df).toBeCloseTo(plain.df, 6)
        expect(plain.df).toBeLessThanOrEqual(a.length + b.length - 2 + 1e-9)
      }),
    )
  })

  it('covers the true difference about as often as it says', () => {
    // Common practice: 95 % of 400 seeded samples, within what chance allows.
    const random = mulberry(5)
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
    let held = 0
    for (let i = 0; i < 400; i++) {
      const a = Array.from({ length: 6 }, () => 10 + normal())
      const b = Array.from({ length: 12 }, () => 8 + 3 * normal())
      const { lower, upper } = meanDifference(a, b)
      if (lower <= 2 && upper >= 2) held++
    }
    expect(held / 400).toBeGreaterThan(0.92)
    expect(held / 400).toBeLessThan(0.98)
  })

  it('refuses groups that do not vary, are too small, or hold something that is not a number', () => {
    expect(() => meanDifference([1, 1], [2, 2])).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
    expect(() => meanDifference([1], [2, 3])).toThrow(
      expect.objectContaining({ code: 'stats.too_few_points' }),
    )
    expect(() => meanDifference([1, 2], [2, Number.NaN])).toThrow(
      expect.objectContaining({
        code: 'stats.not_finite',
        details: { index: 1, value: Number.NaN },
      }),
    )
  })
})

describe('IN6 ratio of times', () => {
  it('is 1 on average for the same times, and turns over with the order', () => {
    const times = fc.array(fc.double({ min: 0.1, max: 1e4, noNaN: true }), {
      minLength: 2,
      maxLength: 12,
    })
    fc.assert(
      fc.property(
        times.filter((t) => new Set(t).size > 1),
        times,
        (a, b) => {
          const one = timeRatio(a, b)
          const two = timeRatio(b, a)
          expect(Math.log(one.estimate)).toBeCloseTo(-Math.log(two.estimate), 8)
          expect(Math.log(one.lower)).toBeCloseTo(-Math.log(two.upper), 4)
          expect(
            timeRatio(
              a.map((t) => 60 * t),
              b.map((t) => 60 * t),
            ).estimate / one.estimate,
          ).toBeCloseTo(1, 8)
        },
      ),
    )
  })

  it('says which time is not above 0', () => {
    expect(() => timeRatio([3, 0, 2], [1, 2])).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range', details: { index: 1, value: 0 } }),
    )
  })
})

describe('IN6 paired differences', () => {
  it("matches R's printed paired t.test of Student's sleep data (figures from memory)", () => {
    const { t, df, p, lower, upper } = pairedDifference(FIRST, SECOND)
    expect(t).toBeCloseTo(-4.0621, 4)
    expect(df).toBe(9)
    expect(p).toBeCloseTo(0.002833, 6)
    expect(lower).toBeCloseTo(-2.4598858, 7)
    expect(upper).toBeCloseTo(-0.7001142, 7)
  })

  it('refuses lists of different lengths and pairs that all differ by the same', () => {
    expect(() => pairedDifference([1, 2], [1])).toThrow(
      expect.objectContaining({ code: 'stats.length_mismatch' }),
    )
    expect(() => pairedDifference([1, 2], [0, 1])).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
  })
})

describe('mean and standard deviation', () => {
  /** NIST Statistical Reference Datasets, univariate: certified means and standard deviations. */
  const pairs = (first: number, a: number, b: number) => [
    first,
    ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? a : b)),
  ]
  it.each([
    { name: 'NumAcc1', values: [10000001, 10000003, 10000002], mean: 10000002, sd: 1 },
    { name: 'NumAcc2', values: pairs(1.2, 1.1, 1.3), mean: 1.2, sd: 0.1 },
    { name: 'NumAcc3', values: pairs(1000000.2, 1000000.1, 1000000.3), mean: 1000000.2, sd: 0.1 },
    {
      name: 'NumAcc4',
      values: pairs(10000000.2, 10000000.1, 10000000.3),
      mean: 10000000.2,
      sd: 0.1,
    },
  ])('keeps the certified digits of $name', ({ values: x, mean, sd }) => {
    const got = meanAndSd(x)
    expect(got.mean / mean).toBeCloseTo(1, 14)
    expect(got.sd / sd).toBeCloseTo(1, 7)
  })
})

function mulberry(seed: number): () => number {
  let a = seed
  return () => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}
