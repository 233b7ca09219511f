import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { powerForMeans, sampleSizeForMeans } from './sample-size-means.ts'
import { powerForProportions, sampleSizeForProportions } from './sample-size-proportions.ts'
import { powerForRates, sampleSizeForRates } from './sample-size-rates.ts'
import { createRandom } from './special/random.ts'

describe('PL1 sizes for proportions', () => {
  /** First row: documentation of R 4.2.2, power.prop.test. All: Fleiss, Levin & Paik (2003), eq. 4.14 and 4.15, recomputed. */
  it.each([
    { p1: 0.5, p2: 0.75, power: 0.9, exact: 76.7069284518, corrected: 84.5176188117 },
    { p1: 0.15, p2: 0.3, power: 0.8, exact: 120.471938185, corrected: 133.472285203 },
    { p1: 0.6, p2: 0.7, power: 0.8, exact: 355.942812712, corrected: 375.676626335 },
    { p1: 0.25, p2: 0.4, power: 0.9, exact: 202.809509512, corrected: 215.937021518 },
    { p1: 0.02, p2: 0.01, power: 0.8, exact: 2318.16467551, corrected: 2514.18724702 },
  ])('needs $exact for $p1 against $p2', ({ p1, p2, power, exact, corrected }) => {
    const plain = sampleSizeForProportions(p1, p2, { power })
    expect(plain.exact).toBeCloseTo(exact, 7)
    expect(plain.first).toBe(Math.ceil(exact))
    expect(sampleSizeForProportions(p1, p2, { power, corrected: true }).exact).toBeCloseTo(
      corrected,
      6,
    )
  })

  it('prints the power of the documentation of R 4.2.2, power.prop.test', () => {
    expect(powerForProportions(50, 50, 0.5, 0.75)).toBeCloseTo(0.7401659013, 10)
  })

  it('gives back the power asked for at the size found, for any ratio', () => {
    const share = fc.double({ min: 0.02, max: 0.98, noNaN: true })
    fc.assert(
      fc.property(share, share, fc.double({ min: 0.2, max: 5, noNaN: true }), (p1, p2, ratio) => {
        fc.pre(Math.abs(p1 - p2) > 0.01)
        const { exact } = sampleSizeForProportions(p1, p2, { ratio, power: 0.85 })
        expect(powerForProportions(exact, exact * ratio, p1, p2)).toBeCloseTo(0.85, 9)
      }),
    )
  })

  it('refuses no difference, and a power no better than a false alarm', () => {
    expect(() => sampleSizeForProportions(0.3, 0.3)).toThrow(
      expect.objectContaining({ code: 'stats.no_difference' }),
    )
    expect(() => sampleSizeForProportions(0.3, 0.4, { power: 0.02 })).toThrow(
      'no more than a false alarm',
    )
    expect(() => sampleSizeForProportions(30, 40)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})

describe('PL2 sizes for means', () => {
  /** Documentation of R 4.2.2, power.t.test (n = 20); Cohen (1988), table 2.4.1 (64); noncentral t recomputed. */
  it.each([
    { n: 20, difference: 1, power: 0.868953027584 },
    { n: 64, difference: 0.5, power: 0.801459557929 },
    { n: 17, difference: 1, power: 0.807036715147 },
    { n: 5, difference: 2, power: 0.790542378018 },
    { n: 20, difference: 0.5, power: 0.33793902869253206 },
  ])('has power $power with $n a group', ({ n, difference, power }) => {
    expect(powerForMeans(n, n, difference, 1)).toBeCloseTo(power, 9)
  })

  it.each([
    { difference: 1, power: 0.9, exact: 22.0210977, cohen: 23 },
    { difference: 0.5, power: 0.8, exact: 63.7657637, cohen: 64 },
    { difference: 0.2, power: 0.8, exact: 393.4056, cohen: 394 },
  ])(
    'needs $cohen a group for a difference of $difference',
    ({ difference, power, exact, cohen }) => {
      const size = sampleSizeForMeans(difference, 1, { power })
      expect(size.exact).toBeCloseTo(exact, 2)
      expect(size.first).toBe(cohen)
    },
  )

  it('matches the one-sided size printed for R 4.2.2, power.t.test, 17.84713', () => {
    expect(sampleSizeForMeans(1, 1, { power: 0.9, sides: 1 }).exact).toBeCloseTo(17.84713, 4)
  })

  it('rises with the size of the group and the difference, and never reaches beyond 1', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 200 }),
        fc.double({ min: 0, max: 8, noNaN: true }),
        (n, d) => {
          const power = powerForMeans(n, n, d, 1)
          expect(power).toBeGreaterThan(0.049)
          expect(power).toBeLessThanOrEqual(1 + 1e-9)
          expect(powerForMeans(n + 1, n, d, 1)).toBeGreaterThanOrEqual(power - 1e-9)
          expect(powerForMeans(n, n, d + 0.1, 1)).toBeGreaterThanOrEqual(power - 1e-9)
        },
      ),
      { numRuns: 40 },
    )
  })

  it('answers quickly for a very small difference', () => {
    expect(sampleSizeForMeans(0.001, 1).first).toBeGreaterThan(15_000_000)
  })
})

describe('PL3 areas for rates', () => {
  it('gives back the power asked for', () => {
    const rate = fc.double({ min: 0.05, max: 20, noNaN: true })
    fc.assert(
      fc.property(rate, rate, fc.double({ min: 0.2, max: 5, noNaN: true }), (a, b, ratio) => {
        fc.pre(Math.abs(a - b) > 0.01)
        const { first, second } = sampleSizeForRates(a, b, { ratio })
        expect(powerForRates(first, a, second, b)).toBeCloseTo(0.8, 9)
      }),
    )
  })

  it('is near the share of simulated periods in which the score test sees the difference', () => {
    const random = createRandom(9)
    const poisson = (mean: number) => {
      let k = 0
      for (let p = random.uniform(); p > Math.exp(-mean); k++) p *= random.uniform()
      return k
    }
    let seen = 0
    for (let i = 0; i < 4000; i++) {
      const a = poisson(40)
      const b = poisson(60)
      if (Math.abs(a - b) / Math.sqrt(a + b) > 1.959964) seen++
    }
    expect(powerForRates(20, 2, 20, 3)).toBeCloseTo(seen / 4000, 1)
  })
})
