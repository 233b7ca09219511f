import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { BCG_TRIALS, LABORATORIES, logRiskRatio } from '../../tests/reference/many-estimates.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { meanDifference } from './mean-difference.ts'
import { randomEffects } from './random-effects.ts'
import { createRandom } from './special/random.ts'

describe('EF11 several estimates of one effect', () => {
  it('finds the published figures of the BCG trials (figures from memory)', () => {
    // Viechtbauer (2010), J Stat Softw 36(3), and the books that use these trials: Q 152.23 on 12,
    // I2 92.12 %, DerSimonian–Laird tau2 0.3088, mean log risk ratio -0.7141.
    const trials = BCG_TRIALS.map(logRiskRatio)
    const found = randomEffects(
      trials.map((t) => t.estimate),
      trials.map((t) => t.standardError),
    )
    expect(found.n).toBe(13)
    expect(found.q).toBeCloseTo(152.233, 3)
    expect(found.p).toBeLessThan(0.0001)
    expect(found.iSquared).toBeCloseTo(0.9212, 4)
    expect(found.tauSquared).toBeCloseTo(0.3088, 4)
    expect(found.estimate).toBeCloseTo(-0.7141, 4)
    expect(found.standardError).toBeCloseTo(0.1787, 4)
    expect([found.lower, found.upper].map((x) => Number(x.toFixed(3)))).toEqual([-1.108, -0.32])
  })

  it('finds what statsmodels prints for nine laboratories (figures from memory)', () => {
    // The example of statsmodels' guide to meta-analysis, one-step tau2 and Hartung–Knapp interval.
    const found = randomEffects(
      LABORATORIES.means,
      LABORATORIES.variances.map((v) => Math.sqrt(v)),
    )
    expect(found.q).toBeCloseTo(24.8019, 4)
    expect(found.tauSquared).toBeCloseTo(0.28805, 5)
    expect(found.estimate).toBeCloseTo(62.390139, 6)
    expect(found.standardError).toBeCloseTo(0.24575, 6)
    expect(found.lower).toBeCloseTo(61.710384, 6)
    expect(found.upper).toBeCloseTo(63.069893, 6)
  })

  it('is Welch’s test where two errors are themselves estimated', () => {
    const groups = [
      [12, 15, 11, 19, 14],
      [21, 18, 30, 24],
    ]
    const parts = groups.map((g) => meanAndSd(g))
    const { p, q } = randomEffects(
      parts.map((s) => s.mean),
      parts.map((s) => s.sd / Math.sqrt(s.n)),
      { degreesOfFreedom: parts.map((s) => s.n - 1) },
    )
    const welch = meanDifference(groups[0]!, groups[1]!)
    expect(q).toBeCloseTo(welch.t ** 2, 10)
    expect(p).toBeCloseTo(welch.p, 10)
  })

  it('never has a narrower interval than one effect for all would have', () => {
    const agreeing = randomEffects([1, 1.01, 0.99], [0.5, 0.5, 0.5])
    expect(agreeing.tauSquared).toBe(0)
    expect(agreeing.upper - agreeing.estimate).toBeCloseTo((1.959964 * 0.5) / Math.sqrt(3), 6)
    // Three errors of 4 degrees of freedom each have 12 together; t there is 2.1788 (any table).
    const estimated = randomEffects([1, 1.01, 0.99], [0.5, 0.5, 0.5], {
      degreesOfFreedom: [4, 4, 4],
    })
    expect(estimated.upper - estimated.estimate).toBeCloseTo((2.1788 * 0.5) / Math.sqrt(3), 5)
    // Three that differ: t with 2 degrees of freedom, 4.3027, on the spread they show.
    const differing = randomEffects([0, 5, 10], [0.1, 0.1, 0.1])
    expect(differing.upper - differing.estimate).toBeCloseTo((4.3027 * 5) / Math.sqrt(3), 3)
  })

  it('follows a shift, a scale and the order of its estimates', () => {
    const list = fc.array(
      fc.tuple(fc.integer({ min: -500, max: 500 }), fc.integer({ min: 1, max: 300 })),
      { minLength: 2, maxLength: 9 },
    )
    fc.assert(
      fc.property(list, fc.integer({ min: -200, max: 200 }), (pairs, shift) => {
        const y = pairs.map(([a]) => a)
        const s = pairs.map(([, b]) => b)
        const plain = randomEffects(y, s)
        const other = randomEffects(
          y.map((v) => 3 * (v + shift)).reverse(),
          s.map((v) => 3 * v).reverse(),
        )
        expect(other.estimate).toBeCloseTo(3 * (plain.estimate + shift), 5)
        expect(other.upper - other.lower).toBeCloseTo(3 * (plain.upper - plain.lower), 4)
        expect(other.p).toBeCloseTo(plain.p, 8)
        expect(plain.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10)
        expect(plain.estimate).toBeGreaterThanOrEqual(Math.min(...y) - 1e-9)
        expect(plain.estimate).toBeLessThanOrEqual(Math.max(...y) + 1e-9)
      }),
    )
  })

  it.each([
    { k: 2, tau: 0 },
    { k: 3, tau: 0 },
    { k: 3, tau: 1 },
    { k: 6, tau: 1 },
  ])('EF11 holds its rates with $k estimates from short series, true spread $tau', ({ k, tau }) => {
    const stories = 2000
    const random = createRandom(k * 10 + tau)
    let covered = 0
    let differ = 0
    for (let story = 0; story < stories; story++) {
      const parts = Array.from({ length: k }, (_, unit) => {
        const center = 5 + tau * random.normal()
        const sd = 2 + unit
        return meanAndSd(Array.from({ length: 11 }, () => center + sd * random.normal()))
      })
      const { lower, upper, p } = randomEffects(
        parts.map((s) => s.mean),
        parts.map((s) => s.sd / Math.sqrt(s.n)),
        { degreesOfFreedom: parts.map((s) => s.n - 1) },
      )
      if (lower <= 5 && upper >= 5) covered++
      if (p < 0.05) differ++
    }
    // Three Monte Carlo errors of a share of 0.05 in 2,000 are 0.015; few estimates make it cover more.
    expect(covered / stories).toBeGreaterThan(0.935)
    if (tau === 0) expect(Math.abs(differ / stories - 0.05)).toBeLessThan(0.015)
  })

  it('refuses one estimate, errors of 0 and lists that do not match', () => {
    const code = (work: () => unknown) => {
      try {
        work()
      } catch (error) {
        return (error as { code: string }).code
      }
      return null
    }
    expect(code(() => randomEffects([1], [1]))).toBe('stats.too_few_points')
    expect(code(() => randomEffects([1, 2], [1, 0]))).toBe('stats.out_of_range')
    expect(code(() => randomEffects([1, 2], [1, 1, 1]))).toBe('stats.length_mismatch')
    expect(code(() => randomEffects([1, 2], [1, 1], { degreesOfFreedom: [4, 0] }))).toBe(
      'stats.out_of_range',
    )
    expect(code(() => randomEffects([1, Number.NaN], [1, 1]))).toBe('stats.not_finite')
  })
})
