import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { betaQuantile, betaTails } from './beta.ts'
import { binomialCdf, binomialPmf, binomialQuantile, binomialTails } from './binomial.ts'
import { chiSquareQuantile, chiSquareTails } from './chi-square.ts'
import { fQuantile, fTails } from './f-distribution.ts'
import { gammaTails } from './gamma.ts'
import { geometricQuantile, geometricTails } from './geometric.ts'
import { hypergeometricQuantile, hypergeometricTails } from './hypergeometric.ts'
import { logGamma } from './log-gamma.ts'
import { negativeBinomialQuantile, negativeBinomialTails } from './negative-binomial.ts'
import { noncentralTTails } from './noncentral-t.ts'
import { erf, erfc, normalCdf, normalLogCdf, normalLogQuantile, normalQuantile } from './normal.ts'
import { poissonCdf, poissonPmf, poissonQuantile, poissonTails } from './poisson.ts'
import { gaussLegendre, integrate } from './quadrature.ts'
import { studentTCdf, studentTQuantile } from './student-t.ts'

const near = (got: number, want: number, relative = 1e-12) =>
  expect(Math.abs(got - want)).toBeLessThanOrEqual(relative * Math.abs(want))
const p = fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true })

describe('normal distribution', () => {
  /** Abramowitz & Stegun (1964), table 26.1 and 26.2: P(z) and the log of Q(z) far out. */
  it.each([
    [1, 0.841344746068543],
    [2, 0.97724986805182],
    [3, 0.99865010196837],
    [-1.96, 0.024997895148220435],
  ])('is as tabulated at %f', (z, value) => near(normalCdf(z), value, 1e-13))

  it.each([
    [5, 6.54265],
    [10, 23.11805],
    [50, 544.96634],
    [100, 2173.87154],
    [500, 54289.9083],
  ])('has −log10 Q(%i) = %f (Abramowitz & Stegun, table 26.2)', (z, value) => {
    expect(-normalLogCdf(-z) / Math.LN10).toBeCloseTo(value, 4)
  })

  it.each([
    [0.975, 1.959963984540054],
    [0.99865, 2.99997699],
    [0.00135, -2.99997699],
  ])('has the quantile of %f as tabulated', (probability, z) => {
    expect(normalQuantile(probability)).toBeCloseTo(z, 7)
  })

  it('turns back into itself, down to 1e-300 and far beyond on the log scale', () => {
    for (let e = 0.5; e < 300; e += 7.3) near(normalCdf(normalQuantile(10 ** -e)), 10 ** -e, 1e-11)
    for (const log of [-1e-12, -0.01, -0.5, -2.4, -2.6, -700, -745, -1e4, -1e8, -1e15]) {
      near(normalLogCdf(normalLogQuantile(log)), log, 1e-10)
    }
  })

  it('is symmetric and rising', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9, max: 9, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (z, step) => {
          expect(normalCdf(-z)).toBeCloseTo(1 - normalCdf(z), 15)
          expect(normalCdf(z + step)).toBeGreaterThanOrEqual(normalCdf(z))
          near(erfc(z) + erf(z), 1, 1e-15)
        },
      ),
    )
  })

  it('answers at the ends of its range and passes NaN through', () => {
    expect([normalCdf(-Infinity), normalCdf(Infinity), normalLogCdf(-Infinity)]).toEqual([
      0,
      1,
      -Infinity,
    ])
    expect([normalQuantile(0), normalQuantile(1), normalLogQuantile(0)]).toEqual([
      -Infinity,
      Infinity,
      Infinity,
    ])
    for (const f of [normalCdf, normalLogCdf, normalQuantile, erfc, logGamma])
      expect(f(Number.NaN)).toBeNaN()
    expect(normalQuantile(1.1)).toBeNaN()
  })
})

describe('quantiles and tables', () => {
  /** Percentage points as in Biometrika Tables for Statisticians (Pearson & Hartley 1966), printed digits. */
  it('prints the usual percentage points', () => {
    expect(studentTQuantile(0.975, 1).toFixed(3)).toBe('12.706')
    expect(studentTQuantile(0.975, 10).toFixed(3)).toBe('2.228')
    expect(studentTQuantile(0.995, 30).toFixed(3)).toBe('2.750')
    expect(chiSquareQuantile(0.95, 1).toFixed(3)).toBe('3.841')
    expect(chiSquareQuantile(0.95, 10).toFixed(3)).toBe('18.307')
    expect(chiSquareQuantile(0.025, 20).toFixed(3)).toBe('9.591')
    expect(fQuantile(0.95, 3, 10).toFixed(2)).toBe('3.71')
    expect(fQuantile(0.99, 5, 20).toFixed(2)).toBe('4.10')
  })

  it('knows log gamma where it has a closed form', () => {
    near(logGamma(0.5), 0.5 * Math.log(Math.PI), 1e-14)
    expect([logGamma(1), logGamma(2)].map(Math.abs)).toEqual([0, 0])
    near(logGamma(11), Math.log(3628800), 1e-15)
    near(logGamma(1 + 2 ** -30), -0.5772156649015329 * 2 ** -30, 1e-8)
    expect([logGamma(0), logGamma(-1), logGamma(Infinity)]).toEqual([
      Infinity,
      Number.NaN,
      Infinity,
    ])
  })

  it('turns quantiles back into probabilities', () => {
    const df = fc.double({ min: 0.5, max: 1e4, noNaN: true })
    fc.assert(
      fc.property(p, df, df, (q, a, b) => {
        near(studentTCdf(studentTQuantile(q, a), a), q, 1e-9)
        near(chiSquareTails(chiSquareQuantile(q, a), a).lower, q, 1e-9)
        near(fTails(fQuantile(q, a, b), a, b).lower, q, 1e-8)
        const x = betaQuantile(a, b, q)
        if (x > 0 && x < 1 - 1e-6) near(betaTails(a, b, x).lower, q, 1e-8)
      }),
    )
  })

  it('maps every count back to itself', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3000 }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.nat(3000),
        (n, share, k) => {
          const some = Math.min(n, k)
          const f = binomialCdf(some, n, share)
          if (f > 1e-290 && f < 1 - 1e-9) expect(binomialQuantile(f, n, share)).toBe(some)
          const g = poissonCdf(k, n * share + 0.01)
          if (g > 1e-290 && g < 1 - 1e-9) expect(poissonQuantile(g, n * share + 0.01)).toBe(k)
          const h = negativeBinomialTails(k, share * 50 + 0.1, share).lower
          if (h > 1e-290 && h < 1 - 1e-9)
            expect(negativeBinomialQuantile(h, share * 50 + 0.1, share)).toBe(k)
          const j = geometricTails(k, share).lower
          if (j < 1 - 1e-9) expect(geometricQuantile(j, share)).toBe(k)
        },
      ),
    )
  })
})

describe('discrete laws', () => {
  it('adds up to 1, term by term and tail by tail', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 200 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (n, share) => {
          let sum = 0
          for (let k = 0; k <= n; k++) {
            sum += binomialPmf(k, n, share)
            expect(binomialCdf(k, n, share)).toBeCloseTo(sum, 11)
          }
          expect(sum).toBeCloseTo(1, 11)
        },
      ),
      { numRuns: 40 },
    )
    let sum = 0
    for (let k = 0; k < 60; k++) {
      sum += poissonPmf(k, 12.5)
      expect(poissonCdf(k, 12.5)).toBeCloseTo(sum, 13)
    }
  })

  it('keeps both tails far out', () => {
    near(binomialTails(999, 1000, 0.5).logUpper, -1000 * Math.LN2, 1e-13)
    near(poissonTails(0, 690).logLower, -690, 1e-14)
    near(binomialTails(0, 10, 1e-30).upper, 1e-29, 1e-12)
    near(gammaTails(1, 5000).logUpper, -5000, 1e-14)
  })

  it('mirrors the binomial and the hypergeometric', () => {
    const deal = fc.record({
      marked: fc.nat(300),
      unmarked: fc.nat(300),
      share: fc.double({ min: 0, max: 1, noNaN: true }),
      at: fc.double({ min: 0, max: 1, noNaN: true }),
    })
    fc.assert(
      fc.property(deal, ({ marked, unmarked, share, at }) => {
        const drawn = Math.floor(share * (marked + unmarked))
        const k = Math.floor(at * drawn)
        const one = hypergeometricTails(k, marked, unmarked, drawn)
        const two = hypergeometricTails(drawn - k - 1, unmarked, marked, drawn)
        expect(one.upper).toBeCloseTo(two.lower, 10)
        expect(one.lower + one.upper).toBeCloseTo(1, 12)
        expect(binomialCdf(k, drawn, share)).toBeCloseTo(
          binomialTails(drawn - k - 1, drawn, 1 - share).upper,
          10,
        )
      }),
    )
    expect(hypergeometricQuantile(0.5, 10, 10, 4)).toBe(2)
  })

  it('answers at the edges', () => {
    expect(binomialCdf(0, 0, 0.3)).toBe(1)
    expect(binomialPmf(0, 5, 0)).toBe(1)
    expect(binomialPmf(5, 5, 1)).toBe(1)
    expect(binomialQuantile(0.3, 5, 0)).toBe(0)
    expect(binomialQuantile(0.3, 5, 1)).toBe(5)
    expect(poissonQuantile(1, 3)).toBe(Infinity)
    for (const bad of [
      binomialCdf(1, 2, 1.5),
      binomialCdf(1, 2.5, 0.5),
      poissonCdf(1, -1),
      poissonCdf(Number.NaN, 1),
      betaTails(0, 1, 0.5).lower,
    ]) {
      expect(bad).toBeNaN()
    }
  })

  it('does not hang on enormous counts', () => {
    expect(binomialQuantile(0.5, 1e12, 0.5)).toBe(5e11)
    expect(poissonQuantile(0.5, 1e12)).toBeGreaterThan(1e12 - 10)
    expect(poissonCdf(1e12, 1e12)).toBeCloseTo(0.5, 5)
    expect(hypergeometricTails(5e5, 1e6, 1e6, 1e6).lower).toBeCloseTo(0.5, 2)
  })
})

describe('quadrature and the noncentral t', () => {
  it('integrates polynomials up to degree 31 exactly', () => {
    near(
      integrate((x) => x ** 31, 0, 1, 1),
      1 / 32,
      1e-13,
    )
    near(gaussLegendre(5).nodes[4]!, 0.906179845938664, 1e-14)
  })

  it('is the central t where nothing is shifted, and turns over', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.integer({ min: 1, max: 300 }),
        fc.double({ min: -4, max: 4, noNaN: true }),
        (t, df, delta) => {
          expect(noncentralTTails(t, df, 0).lower).toBeCloseTo(studentTCdf(t, df), 10)
          const one = noncentralTTails(t, df, delta)
          expect(one.lower).toBeCloseTo(noncentralTTails(-t, df, -delta).upper, 10)
          expect(one.lower + one.upper).toBeCloseTo(1, 10)
        },
      ),
      { numRuns: 50 },
    )
  })
})
