import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { poissonInterval } from './poisson-interval.ts'
import { rateRatio } from './rate-ratio.ts'
import { poissonCdf } from './special/poisson.ts'

/** Garwood (1936), Biometrika 28:437, as reprinted; limits recomputed with SciPy. */
const GARWOOD = [
  { count: 0, printed: [0, 3.689], lower: 0, upper: 3.6888794541139354 },
  { count: 1, printed: [0.0253, 5.572], lower: 0.0253178079843, upper: 5.57164339094 },
  { count: 3, printed: [0.619, 8.767], lower: 0.6186721228956014, upper: 8.767273069742323 },
  { count: 5, printed: [1.623, 11.668], lower: 1.62348639012, upper: 11.6683320793 },
  { count: 15, printed: [8.395, 24.74], lower: 8.39538613278, upper: 24.7402188715 },
  { count: 27, printed: [17.793, 39.284], lower: 17.793170131764775, upper: 39.28358244516213 },
  { count: 100, printed: [81.364, 121.627], lower: 81.3639912509, upper: 121.626793792 },
]

describe('IN4 Poisson interval', () => {
  it.each(GARWOOD)('matches Garwood for a count of $count', ({ count, printed, lower, upper }) => {
    const got = poissonInterval(count)
    expect(got.lower).toBeCloseTo(lower, 8)
    expect(got.upper).toBeCloseTo(upper, 8)
    expect(Math.abs(got.lower - printed[0]!)).toBeLessThan(0.0006)
    expect(Math.abs(got.upper - printed[1]!)).toBeLessThan(0.0006)
  })

  it('matches the rate printed in the documentation of R 4.2.2, poisson.test', () => {
    const { estimate, lower, upper } = poissonInterval(137, 24.19893)
    expect(estimate).toBeCloseTo(5.661407343, 9)
    expect(lower).toBeCloseTo(4.753124805, 9)
    expect(upper).toBeCloseTo(6.692709334, 9)
  })

  it('gives a standardised ratio with the expected events as area', () => {
    // Ulm (1990), Am J Epidemiol 131:373, the method; 15 observed of 8.6 expected recomputed.
    const { estimate, lower, upper } = poissonInterval(15, 8.6)
    expect(estimate).toBeCloseTo(1.74418604651, 10)
    expect(lower).toBeCloseTo(0.976207689859, 10)
    expect(upper).toBeCloseTo(2.87676963622, 10)
  })

  it('scales with the area and leaves half of alpha beyond each limit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0.01, max: 1e4, noNaN: true }),
        (count, area) => {
          const one = poissonInterval(count, 1, 0.9)
          const two = poissonInterval(count, area, 0.9)
          expect(two.lower * area).toBeCloseTo(one.lower, 4)
          expect(poissonCdf(count, one.upper)).toBeCloseTo(0.05, 8)
          expect(1 - poissonCdf(count - 1, one.lower)).toBeCloseTo(0.05, 8)
        },
      ),
      { numRuns: 50 },
    )
  })

  it.each([
    [-1, 1, 'stats.out_of_range'],
    [1.5, 1, 'stats.out_of_range'],
    [1, 0, 'stats.out_of_range'],
    [1, Infinity, 'stats.not_finite'],
  ])('refuses a count of %s in an area of %s', (count, area, code) => {
    expect(() => poissonInterval(count, area)).toThrow(expect.objectContaining({ code }))
  })
})

describe('IN5 ratio of rates', () => {
  it('matches the ratio printed in the documentation of R 4.2.2, poisson.test', () => {
    const { estimate, lower, upper } = rateRatio(11, 800, 21, 3011)
    expect(estimate).toBeCloseTo(1.971488095, 9)
    expect(lower).toBeCloseTo(0.8584264034, 9)
    expect(upper).toBeCloseTo(4.2772659437, 9)
  })

  it('gives the ratio of Rothman & Greenland, Modern Epidemiology (1998), breast cancer and fluoroscopy', () => {
    const { estimate, lower, upper } = rateRatio(41, 28_010, 15, 19_017)
    expect(estimate!.toFixed(2)).toBe('1.86')
    // Limits recomputed by the exact conditional method.
    expect(lower).toBeCloseTo(1.00568406269, 9)
    expect(upper).toBeCloseTo(3.60930031108, 9)
  })

  it.each([
    { x: [18, 1200, 6, 1150], lower: 1.0932767453520733, upper: 8.847553478008223 },
    { x: [5, 100, 0, 80], lower: 0.733084685852, upper: Infinity },
  ])('matches the recomputed limits of $x', ({ x, lower, upper }) => {
    const got = rateRatio(x[0]!, x[1]!, x[2]!, x[3]!)
    expect(got.lower).toBeCloseTo(lower, 9)
    if (upper === Infinity) expect(got).toMatchObject({ estimate: null, upper })
    else expect(got.upper).toBeCloseTo(upper, 9)
  })

  it('turns into its inverse when the periods change places', () => {
    const counts = fc.integer({ min: 1, max: 5000 })
    const areas = fc.double({ min: 0.1, max: 1e4, noNaN: true })
    fc.assert(
      fc.property(counts, areas, counts, areas, (a, s, b, t) => {
        const one = rateRatio(a, s, b, t)
        const two = rateRatio(b, t, a, s)
        expect(one.lower * two.upper).toBeCloseTo(1, 8)
        expect(one.estimate! * two.estimate!).toBeCloseTo(1, 12)
        expect(one.lower).toBeLessThan(one.estimate!)
        expect(one.upper).toBeGreaterThan(one.estimate!)
      }),
    )
  })

  it('says nothing either way where nothing happened', () => {
    expect(rateRatio(0, 5, 0, 7)).toEqual({
      estimate: null,
      lower: 0,
      upper: Infinity,
      level: 0.95,
    })
  })
})
