import { describe, expect, it } from 'vitest'
import { bernoulliCusumRunLength } from './bernoulli-cusum.ts'
import { riskAdjustedRunLength } from './risk-adjusted-run-length.ts'

describe('EF10 run length of the risk-adjusted CUSUM', () => {
  it('agrees with the exact wait of a lattice Bernoulli CUSUM where every risk is the same', () => {
    // At a risk of 0.1 this odds ratio makes an event weigh exactly 5 cases without one.
    const event = (r: number) => Math.log(r / (1 + 0.1 * (r - 1)))
    const none = (r: number) => -Math.log1p(0.1 * (r - 1))
    let low = 1.01
    let high = 1000
    for (let i = 0; i < 200; i++) {
      const r = (low + high) / 2
      if (event(r) / -none(r) > 5) low = r
      else high = r
    }
    const unit = -none(low)
    const exact = bernoulliCusumRunLength(5, 14, 0.1)
    const { mean, standardError, cut } = riskAdjustedRunLength([0.1], {
      oddsRatio: low,
      limit: 14 * unit,
      runs: 4000,
      most: 20_000,
      seed: 3,
    })
    expect(cut).toBe(0)
    expect(Math.abs(mean - exact)).toBeLessThan(4 * standardError)
    expect(standardError).toBeLessThan(0.03 * exact)
  })

  it('waits less when the odds really are worse, and repeats itself', () => {
    const risks = [0.02, 0.05, 0.1, 0.3]
    const calm = riskAdjustedRunLength(risks, { limit: 3, runs: 300, most: 5000 })
    const bad = riskAdjustedRunLength(risks, { limit: 3, runs: 300, most: 5000, trueOddsRatio: 2 })
    expect(bad.mean).toBeLessThan(calm.mean / 3)
    expect(riskAdjustedRunLength(risks, { limit: 3, runs: 300, most: 5000 })).toEqual(calm)
  })

  it('says how many runs were cut short', () => {
    expect(riskAdjustedRunLength([0.1], { limit: 50, runs: 20, most: 100 })).toMatchObject({
      cut: 1,
      mean: 100,
    })
  })

  it('refuses a risk of 1, and more work than anyone would wait for', () => {
    expect(() => riskAdjustedRunLength([0.5, 1])).toThrow(
      expect.objectContaining({ details: { index: 1, value: 1 } }),
    )
    expect(() => riskAdjustedRunLength([0.5], { runs: 1e6, most: 1e6 })).toThrow(
      expect.objectContaining({ code: 'stats.too_many_points' }),
    )
  })
})
