import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { beamDeflections } from '../../tests/reference/beam-deflections.ts'
import { nileFlow } from '../../tests/reference/nile.ts'
import { andersonDarling } from './anderson-darling.ts'
import { autocorrelation } from './autocorrelation.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { shapiroWilk } from './shapiro-wilk.ts'

const varied = fc
  .array(fc.integer({ min: -500, max: 500 }), { minLength: 10, maxLength: 60 })
  .filter((v) => new Set(v).size > 3)

describe('EF4 autocorrelation', () => {
  it('gives the certified figures of NIST StRD, Lew', () => {
    const { mean, sd } = meanAndSd(beamDeflections)
    expect(mean).toBeCloseTo(-177.435, 12)
    expect(sd).toBeCloseTo(277.332168044316, 10)
    expect(autocorrelation(beamDeflections).values[0]).toBeCloseTo(-0.307304800605679, 12)
  })

  it('quotes r1 and its bound as the e-Handbook does in 1.4.2.5: −0.307 and 0.139', () => {
    const { values, bound } = autocorrelation(beamDeflections)
    expect(values[0]!.toFixed(3)).toBe('-0.307')
    expect(bound.toFixed(3)).toBe('0.139')
  })

  it('gives ten lags and Ljung–Box (recomputed with statsmodels)', () => {
    const { values, q, p } = autocorrelation(beamDeflections, 10)
    expect(values[4]).toBeCloseTo(-0.898156107913, 11)
    expect(values[9]).toBeCloseTo(0.824513135713, 11)
    expect(q).toBeCloseTo(815.539442312, 8)
    expect(p / 9.40978051489e-169).toBeCloseTo(1, 8)
  })

  it.each([
    { name: 'NumAcc1', x: [10000001, 10000003, 10000002], r1: -0.5 },
    {
      name: 'NumAcc2',
      x: [1.2, ...Array.from({ length: 1000 }, (_, i) => (i % 2 ? 1.3 : 1.1))],
      r1: -0.999,
    },
    {
      name: 'NumAcc4',
      x: [10000000.2, ...Array.from({ length: 1000 }, (_, i) => (i % 2 ? 10000000.3 : 10000000.1))],
      r1: -0.999,
    },
  ])('keeps the certified autocorrelation of NIST StRD, $name', ({ x, r1 }) => {
    expect(autocorrelation(x).values[0]).toBeCloseTo(r1, 7)
  })

  it('ignores shift and scale, and reads the same backwards', () => {
    fc.assert(
      fc.property(varied, fc.integer({ min: -1000, max: 1000 }), (x, c) => {
        const plain = autocorrelation(x, 4).values
        const other = autocorrelation(
          [...x].reverse().map((v) => c - 3 * v),
          4,
        ).values
        plain.forEach((r, k) => {
          expect(other[k]).toBeCloseTo(r, 9)
          expect(Math.abs(r)).toBeLessThanOrEqual(1)
        })
      }),
    )
  })

  it('refuses a constant series and more lags than it has', () => {
    expect(() => autocorrelation([2, 2, 2])).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
    expect(() => autocorrelation([0.1, 0.1, 0.1])).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
    expect(() => autocorrelation([1, 2, 3], 3)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})

describe('EF5 Shapiro–Wilk', () => {
  it('gives W = .79 for the weights of 11 men of Shapiro & Wilk (1965), Biometrika 52:591', () => {
    const { w, p } = shapiroWilk([148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236])
    expect(w.toFixed(2)).toBe('0.79')
    expect(w).toBeCloseTo(0.788814783096, 6)
    expect(p).toBeCloseTo(0.00670383311808, 6)
  })

  it('matches SciPy for the Nile and the beam', () => {
    expect(shapiroWilk(nileFlow).w).toBeCloseTo(0.973434925079, 6)
    expect(shapiroWilk(nileFlow).p).toBeCloseTo(0.0407237671316, 5)
    expect(shapiroWilk(beamDeflections).p / 4.44022596469e-10).toBeCloseTo(1, 3)
  })

  it('ignores shift, scale and order, and stays within 0 and 1', () => {
    fc.assert(
      fc.property(varied, fc.integer({ min: -99, max: 99 }), (x, c) => {
        const plain = shapiroWilk(x)
        const other = shapiroWilk([...x].reverse().map((v) => c - 2 * v))
        expect(other.w).toBeCloseTo(plain.w, 10)
        expect(plain.w).toBeGreaterThan(0)
        expect(plain.w).toBeLessThanOrEqual(1)
        expect(plain.p).toBeGreaterThanOrEqual(0)
        expect(plain.p).toBeLessThanOrEqual(1)
      }),
    )
  })

  it('works from 3 to 5,000 values and no further', () => {
    for (let n = 3; n <= 14; n++) {
      const { w, p } = shapiroWilk(Array.from({ length: n }, (_, i) => i))
      expect(w).toBeGreaterThan(0.9)
      expect(p).toBeGreaterThan(0.3)
    }
    const many = Array.from({ length: 5001 }, (_, i) => i)
    expect(shapiroWilk(many.slice(1)).w).toBeLessThan(1)
    expect(() => shapiroWilk(many)).toThrow(
      expect.objectContaining({ code: 'stats.too_many_points' }),
    )
    expect(() => shapiroWilk([4, 4, 4])).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
  })
})

describe('EF5 Anderson–Darling', () => {
  it('matches SciPy and D’Agostino & Stephens (1986) for the Nile and the beam', () => {
    expect(andersonDarling(nileFlow).statistic).toBeCloseTo(1.03197407434, 9)
    expect(andersonDarling(nileFlow).p).toBeCloseTo(0.00982095939728, 9)
    expect(andersonDarling(beamDeflections).statistic).toBeCloseTo(6.00064691578, 8)
    expect(andersonDarling(beamDeflections).p / 8.32482770384e-15).toBeCloseTo(1, 6)
  })

  it('ignores shift, scale and order, and survives a value far away', () => {
    fc.assert(
      fc.property(varied, fc.integer({ min: -99, max: 99 }), (x, c) => {
        const plain = andersonDarling(x)
        expect(andersonDarling([...x].reverse().map((v) => 2 * v + c)).statistic).toBeCloseTo(
          plain.statistic,
          8,
        )
        expect(plain.p).toBeGreaterThanOrEqual(0)
        expect(plain.p).toBeLessThanOrEqual(1)
      }),
    )
    const far = andersonDarling([...Array.from({ length: 5000 }, (_, i) => i % 10), 1e9])
    expect(Number.isFinite(far.statistic)).toBe(true)
    expect(far.p).toBe(0)
  })

  it('refuses seven values', () => {
    expect(() => andersonDarling([1, 2, 3, 4, 5, 6, 7])).toThrow(
      expect.objectContaining({ code: 'stats.too_few_points' }),
    )
  })
})
