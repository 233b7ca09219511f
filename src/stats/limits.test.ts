import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { countLimits, proportionLimits, rateLimits } from './count-limits.ts'
import { D2_PAIR, individualsCenter } from './individuals-limits.ts'
import { medianOf } from './median.ts'
import { smallBinomialQuantile, smallPoissonQuantile } from './small-count-quantiles.ts'

const all = (n: number) => new Uint8Array(n).fill(1)

describe('individuals chart', () => {
  it('CH2: matches the flow rates of NIST/SEMATECH e-Handbook 6.3.2.2', () => {
    const flow = Float64Array.of(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
    const { center, sigma } = individualsCenter(flow, all(10))
    expect(center).toBeCloseTo(50.81, 12)
    expect(sigma * D2_PAIR).toBeCloseTo(1.8778, 4)
    // Printed 45.8159 and 55.8041 with d2 rounded to 1.128; exact d2 moves the third decimal.
    expect(center - 3 * sigma * (D2_PAIR / 1.128)).toBeCloseTo(45.8159, 4)
    expect(center + 3 * sigma * (D2_PAIR / 1.128)).toBeCloseTo(55.8041, 4)
    expect(center - 3 * sigma).toBeCloseTo(45.8175883199, 9)
    expect(center + 3 * sigma).toBeCloseTo(55.8024116801, 9)
  })

  it('CH2: matches the paint viscosities of Montgomery, Introduction to SQC, example 5-5 (4th ed.)', () => {
    const x = Float64Array.of(
      33.75,
      33.05,
      34,
      33.81,
      33.46,
      34.02,
      33.68,
      33.27,
      33.49,
      33.2,
      33.62,
      33,
      33.54,
      33.12,
      33.84,
    )
    const { center, sigma } = individualsCenter(x, all(15))
    // Printed: mean 33.52, mean moving range 0.48, limits 32.24 and 34.80.
    expect(center).toBeCloseTo(33.52, 2)
    expect(sigma * D2_PAIR).toBeCloseTo(0.48, 2)
    expect(center + 3 * sigma).toBeCloseTo(34.8013991637, 9)
    expect(center - 3 * sigma).toBeCloseTo(32.245267503, 9)
  })

  it('CH2: shifts and scales with the data, also by 1e12', () => {
    const value = fc.integer({ min: -1000, max: 1000 })
    fc.assert(
      fc.property(fc.array(value, { minLength: 2, maxLength: 40 }), value, (xs, shift) => {
        const a = individualsCenter(Float64Array.from(xs), all(xs.length))
        const b = individualsCenter(
          Float64Array.from(xs, (x) => 4 * x + shift),
          all(xs.length),
        )
        expect(b.center).toBeCloseTo(4 * a.center + shift, 8)
        expect(b.sigma).toBeCloseTo(4 * a.sigma, 8)
        const far = individualsCenter(
          Float64Array.from(xs, (x) => x + 1e12),
          all(xs.length),
        )
        expect(far.center - 1e12).toBeCloseTo(a.center, 3)
      }),
    )
  })
})

describe('counts, proportions and rates', () => {
  it('CH6: small binomial quantiles agree with the definition summed the other way', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (n, p) => {
          // From the top: P(X > x) by adding the masses of n, n−1, …
          const mass: number[] = []
          let choose = 1
          for (let k = 0; k <= n; k++) {
            mass.push(choose * p ** k * (1 - p) ** (n - k))
            choose = (choose * (n - k)) / (k + 1)
          }
          const upTo = (x: number) => mass.slice(0, x + 1).reduce((a, b) => a + b, 0)
          for (const level of [0.00135, 0.5, 0.99865]) {
            const x = smallBinomialQuantile(level, n, p)
            expect(upTo(x)).toBeGreaterThanOrEqual(level - 1e-9)
            if (x > 0) expect(upTo(x - 1)).toBeLessThan(level + 1e-9)
          }
        },
      ),
    )
  })

  it('CH6: small Poisson quantiles satisfy their definition', () => {
    const upTo = (mean: number, x: number) => {
      let mass = Math.exp(-mean)
      let sum = mass
      for (let k = 1; k <= x; k++) {
        mass *= mean / k
        sum += mass
      }
      return sum
    }
    for (const mean of [0.1, 0.5, 1, 2, 3.7, 4.9, 30, 400]) {
      for (const level of [0.00135, 0.5, 0.99865]) {
        const x = smallPoissonQuantile(level, mean)
        expect(upTo(mean, x)).toBeGreaterThanOrEqual(level)
        if (x > 0) expect(upTo(mean, x - 1)).toBeLessThan(level)
      }
    }
  })

  it('CH6: switches at an expected count of 5, on either chart', () => {
    expect(countLimits(5).exact).toBe(false)
    expect(countLimits(4.999).exact).toBe(true)
    expect(proportionLimits(0.1, 50).exact).toBe(false)
    expect(proportionLimits(0.1, 49).exact).toBe(true)
    expect(rateLimits(0.1, 49, 'sigma').exact).toBe(false)
  })

  it('CH3 CH4 CH5: limits never leave what can happen', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        (p, n) => {
          const a = proportionLimits(p, n)
          expect(a.lower).toBeGreaterThanOrEqual(0)
          expect(a.upper).toBeLessThanOrEqual(1)
          expect(a.lower).toBeLessThanOrEqual(a.upper)
          expect(rateLimits(p, n).lower).toBeGreaterThanOrEqual(0)
        },
      ),
    )
  })

  it('refuses impossible arguments', () => {
    const code = expect.objectContaining({ code: 'stats.out_of_range' })
    expect(() => smallBinomialQuantile(2, 10, 0.5)).toThrow(code)
    expect(() => smallBinomialQuantile(0.5, 10, 1.5)).toThrow(code)
    expect(() => smallPoissonQuantile(0.5, Number.NaN)).toThrow(code)
  })
})

describe('medianOf', () => {
  it('CH1: takes the middle, or halfway between the two middle values, and leaves its input alone', () => {
    const values = Float64Array.of(9, 1, 5)
    expect(medianOf(values)).toBe(5)
    expect([...values]).toEqual([9, 1, 5])
    expect(medianOf(Float64Array.of(4, 1, 3, 2))).toBe(2.5)
    expect(medianOf(Float64Array.of(1e308, 1.2e308))).toBeCloseTo(1.1e308, -300)
  })
})
