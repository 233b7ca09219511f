import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nileFlow } from '../../tests/reference/nile.ts'
import { VIENNA_MONTHS } from '../../tests/reference/vienna-maternity.ts'
import { changePoint } from './change-point.ts'
import { createRandom } from './special/random.ts'

describe('EF3 change-point', () => {
  it('places the fall of the Nile after 28 years, in 1899 (Cobb 1978, Biometrika 65:243)', () => {
    const { at, before, after, confidenceSet } = changePoint(nileFlow)
    expect(1871 + at).toBe(1899)
    // Means of 1871–1898 and 1899–1970, as printed there: 1097.75 and 849.97.
    expect(before.toFixed(2)).toBe('1097.75')
    expect(after.toFixed(2)).toBe('849.97')
    expect(confidenceSet).toContain(28)
    expect(confidenceSet.length).toBeLessThan(10)
  })

  it('places the fall of deaths in Vienna within two months of June 1847 (Semmelweis 1861)', () => {
    const found = changePoint(
      VIENNA_MONTHS.map((m) => m.deaths),
      { model: 'binomial', denominators: VIENNA_MONTHS.map((m) => m.births) },
    )
    const from = VIENNA_MONTHS.findIndex((m) => Object.values(m).includes('1847-06-01'))
    expect(Math.abs(found.at - from)).toBeLessThanOrEqual(2)
    expect(found.before).toBeGreaterThan(0.09)
    expect(found.after).toBeLessThan(0.03)
  })

  it('holds the true place at least as often as it says', () => {
    const random = createRandom(21)
    const poisson = (mean: number) => {
      let k = 0
      for (let p = random.uniform(); p > Math.exp(-mean); k++) p *= random.uniform()
      return k
    }
    const held = { normal: 0, binomial: 0, poisson: 0 }
    for (let i = 0; i < 300; i++) {
      const normal = Array.from({ length: 40 }, (_, t) => random.normal() + (t < 18 ? 0 : 1.5))
      if (changePoint(normal).confidenceSet.includes(18)) held.normal++
      const counts = Array.from({ length: 40 }, (_, t) => poisson(t < 18 ? 4 : 8))
      if (changePoint(counts, { model: 'poisson' }).confidenceSet.includes(18)) held.poisson++
      const denominators = counts.map(() => 30)
      const yes = counts.map(
        (_, t) =>
          denominators.slice(0, 30).filter(() => random.uniform() < (t < 18 ? 0.3 : 0.55)).length,
      )
      if (changePoint(yes, { model: 'binomial', denominators }).confidenceSet.includes(18))
        held.binomial++
    }
    for (const share of Object.values(held)) expect(share / 300).toBeGreaterThan(0.92)
  })

  it('moves with shift and scale, and mirrors in time', () => {
    const series = fc
      .array(fc.integer({ min: -100, max: 100 }), { minLength: 6, maxLength: 40 })
      .filter((v) => new Set(v).size > 2)
    fc.assert(
      fc.property(series, fc.integer({ min: -1000, max: 1000 }), (y, c) => {
        const plain = changePoint(y)
        const moved = changePoint(y.map((v) => 2 * v + c))
        const turned = changePoint([...y].reverse())
        expect(moved.deviance).toBeCloseTo(plain.deviance, 6)
        expect(turned.deviance).toBeCloseTo(plain.deviance, 6)
        expect(moved.lost[plain.at - 1]!).toBeCloseTo(0, 6)
        expect(turned.lost[y.length - plain.at - 1]!).toBeCloseTo(0, 6)
        expect(plain.confidenceSet).toContain(plain.at)
      }),
    )
  })

  it('holds more places the higher the level', () => {
    const at = (level: number) => changePoint(nileFlow, { level }).confidenceSet.length
    expect(at(0.5)).toBeLessThanOrEqual(at(0.8))
    expect(at(0.8)).toBeLessThanOrEqual(at(0.99))
  })

  it('finds a step without noise at once', () => {
    expect(changePoint([1, 1, 1, 5, 5, 5, 5])).toMatchObject({
      at: 3,
      before: 1,
      after: 5,
      confidenceSet: [3],
    })
  })

  it('is linear in the length: a million points take no time to speak of', () => {
    const y = Array.from({ length: 1e6 }, (_, i) => (i % 7) + (i < 4e5 ? 0 : 3))
    expect(Math.abs(changePoint(y).at - 4e5)).toBeLessThan(10)
  })

  it.each([
    [[1, 1, 1, 1], {}, 'stats.constant'],
    [[0, 0, 0, 0], { model: 'poisson' as const }, 'stats.constant'],
    [[2, 2, 2, 2], { model: 'binomial' as const, denominators: [2, 2, 2, 2] }, 'stats.constant'],
    [[1, 2, 3], {}, 'stats.too_few_points'],
    [[1, 2, 3, 4], { model: 'binomial' as const }, 'stats.missing_column'],
    [
      [1, 2, 3, 4],
      { model: 'binomial' as const, denominators: [9, 9, 2, 9] },
      'stats.numerator_over_denominator',
    ],
    [[1, 2, 3, 4], { model: 'poisson' as const, denominators: [9, 9, 0, 9] }, 'stats.out_of_range'],
    [[1, 2, 3, 4], { model: 'poisson' as const, denominators: [9] }, 'stats.length_mismatch'],
    [[1, -2, 3, 4], { model: 'poisson' as const }, 'stats.out_of_range'],
  ])('refuses %j with %j', (y, options, code) => {
    expect(() => changePoint(y, options)).toThrow(expect.objectContaining({ code }))
  })
})
