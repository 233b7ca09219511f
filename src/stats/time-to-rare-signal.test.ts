import { describe, expect, it } from 'vitest'
import { createRandom } from './special/random.ts'
import { rareSignalChances } from './time-to-rare-signal.ts'

describe('rareSignalChances', () => {
  it('ER6: a G chart whose mean doubles signals by the geometric law (Benneyan 2001)', () => {
    // Limits for a mean of 99 cases: 0.00135 and 0.99865 quantiles, 0 and 657.
    const wanted = (n: number) => 1 - (1 - (199 / 200) ** 658) ** n
    const chances = rareSignalChances('g', 'shewhart-healthcare', 99, 199, 12)
    for (const n of [1, 5, 12]) expect(chances[n - 1]).toBeCloseTo(wanted(n), 12)
  })

  it('ER6: a T chart signals as drawn exponential times do (Nelson 1994)', () => {
    const before = 20
    const after = 50
    const random = createRandom(4)
    const draw = (mean: number) => (-mean * Math.log(1 - random.uniform())) ** (1 / 3.6)
    const seen = Array.from({ length: 200_000 }, () => draw(before))
    const center = seen.reduce((a, b) => a + b, 0) / seen.length
    const sigma = Math.sqrt(seen.reduce((a, b) => a + (b - center) ** 2, 0) / seen.length)
    const charts = 20_000
    let signals = 0
    for (let c = 0; c < charts; c++) {
      const z = Array.from({ length: 10 }, () => (draw(after) - center) / sigma)
      const any = (need: number, of: number, beyond: number) =>
        z.some((_, i) => {
          const w = z.slice(Math.max(0, i - of + 1), i + 1)
          return [1, -1].some((s) => w.filter((x) => s * x > beyond).length >= need)
        })
      if (any(1, 1, 3) || any(2, 3, 2) || any(4, 5, 1) || any(8, 8, 0)) signals++
    }
    const chance = rareSignalChances('t', 'zone-tests', before, after, 10)[9]!
    expect(Math.abs(signals / charts - chance)).toBeLessThan(0.015)
  })

  it('ER6: refuses a mean of zero', () => {
    expect(() => rareSignalChances('t', 'zone-tests', 0, 1, 3)).toThrow('cannot be worked out')
  })
})
