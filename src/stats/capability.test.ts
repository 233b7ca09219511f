import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { capability } from './capability.ts'

describe('EF6 capability', () => {
  it('gives Cp 1.0 and Cpk .6667 for the example of the e-Handbook, 6.1.6', () => {
    const { cp, cpk, shareOutside } = capability({ mean: 16, sigma: 2 }, { lower: 8, upper: 20 })
    expect(cp).toBeCloseTo(1, 12)
    expect(cpk.toFixed(4)).toBe('0.6667')
    expect(1e6 * shareOutside).toBeCloseTo(22781.80319, 4)
  })

  /** Montgomery (2013), Introduction to Statistical Quality Control, 7th ed.: hard bake, piston rings. */
  it.each([
    {
      mean: 1.5056,
      sigma: 0.1398,
      lower: 1,
      upper: 2,
      cp: '1.192',
      cpk: 1.17882689557,
      ppm: 351.999893462,
    },
    {
      mean: 74.001,
      sigma: 0.0099,
      lower: 73.95,
      upper: 74.05,
      cp: '1.684',
      cpk: 1.64983164983,
      ppm: 0.50122671473,
    },
  ])('gives Cp $cp', ({ mean, sigma, lower, upper, cp, cpk, ppm }) => {
    const c = capability({ mean, sigma }, { lower, upper })
    expect(c.cp!.toFixed(3)).toBe(cp)
    expect(c.cpk).toBeCloseTo(cpk, 9)
    expect(1e6 * c.shareOutside).toBeCloseTo(ppm, 6)
  })

  it('gives 1.57 to 3.01 around Cp 2.29 of 20 values (Montgomery 2013, example 8.4)', () => {
    const { cp, cpInterval, cpkInterval } = capability(
      { mean: 50, sigma: 1.75, n: 20 },
      { lower: 38, upper: 62 },
    )
    expect(cp!.toFixed(2)).toBe('2.29')
    expect(Math.abs(cpInterval!.lower - 1.57)).toBeLessThan(0.011)
    expect(cpInterval!.upper.toFixed(2)).toBe('3.01')
    expect(cpInterval!.lower).toBeCloseTo(1.56494500454, 8)
    // Bissell (1990), recomputed.
    expect(cpkInterval!.lower).toBeCloseTo(1.54443805604, 8)
    expect(cpkInterval!.upper).toBeCloseTo(3.02699051539, 8)
  })

  it('does not change with the unit, and Cpk is never above Cp', () => {
    const x = fc.double({ min: -100, max: 100, noNaN: true })
    fc.assert(
      fc.property(
        x,
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        fc.double({ min: 0.1, max: 100, noNaN: true }),
        (mean, sigma, width) => {
          const plain = capability({ mean, sigma }, { lower: 0, upper: width })
          const scaled = capability(
            { mean: 10 * mean + 7, sigma: 10 * sigma },
            { lower: 7, upper: 10 * width + 7 },
          )
          expect(scaled.cpk).toBeCloseTo(plain.cpk, 6)
          expect(plain.cpk).toBeLessThanOrEqual(plain.cp! + 1e-12)
          expect(plain.shareOutside).toBeLessThanOrEqual(1 + 1e-12)
        },
      ),
    )
  })

  it('takes one limit alone', () => {
    expect(capability({ mean: 5, sigma: 1 }, { upper: 8 })).toMatchObject({
      cp: null,
      cpLower: null,
      cpk: 1,
    })
  })

  it('refuses no limits, limits upside down, and a sigma of 0', () => {
    expect(() => capability({ mean: 5, sigma: 1 }, {})).toThrow(
      expect.objectContaining({ code: 'stats.no_limits' }),
    )
    expect(() => capability({ mean: 5, sigma: 1 }, { lower: 3, upper: 3 })).toThrow('not below')
    expect(() => capability({ mean: 5, sigma: 0 }, { lower: 3 })).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})
