import { describe, expect, it } from 'vitest'
import { binomialDraw } from './chance-draws.ts'
import { RULE_SETS } from './rules.ts'
import { averageRunLength, chanceOfSignal } from './run-length.ts'
import { createRandom } from './special/random.ts'
import { denominatorForSignal, timeToCountSignal, timeToSignal } from './time-to-signal.ts'

describe('timeToSignal', () => {
  it('ER6: has the mean of Champ & Woodall 1987 (9.22 points for the zone tests and 1 sigma)', () => {
    const { chances, median, pointsFor80, pointsFor90 } = timeToSignal('zone-tests', 1, 1000)
    const mean = chances.reduce((sum, p) => sum + (1 - p), 1)
    expect(mean).toBeCloseTo(9.22, 2)
    expect(median).toBeLessThan(mean)
    expect(chances[median! - 1]).toBeGreaterThanOrEqual(0.5)
    expect(chances[median! - 2]).toBeLessThan(0.5)
    expect(chances[pointsFor80! - 1]).toBeGreaterThanOrEqual(0.8)
    expect(pointsFor90).toBeGreaterThan(pointsFor80!)
  })

  it('ER6: a point beyond 3 sigma alone follows the geometric law', () => {
    const p = 1 / averageRunLength(RULE_SETS['zone-tests'].pointRules.slice(0, 1), 2)
    expect(chanceOfSignal(RULE_SETS['zone-tests'].pointRules.slice(0, 1), 12, 2)).toBeCloseTo(
      1 - (1 - p) ** 12,
      12,
    )
  })

  it('ER6: run chart rules find a large shift as soon as a run is long enough', () => {
    expect(timeToSignal('run-classic', 6).median).toBe(6)
    // Ten points are needed before the rules are read at all.
    expect(timeToSignal('run-length-adjusted', 6).median).toBe(10)
    expect(timeToSignal('run-length-adjusted', 0, 30).chances[29]).toBeLessThan(0.06)
  })

  it('ER6: says so in one sentence', () => {
    expect(timeToSignal('zone-tests', 2).text).toMatch(
      /^Half of the time a signal would come within \d points of the change, and 9 times in 10 within \d points\.$/,
    )
    expect(timeToSignal('zone-tests', 0, 5).text).toContain('only')
    expect(timeToSignal('none', 3, 5).text).toContain('only 0 %')
  })
})

describe('timeToCountSignal', () => {
  it('ER6: agrees with drawing the counts', () => {
    const change = { kind: 'p', before: 0.3, after: 0.18, denominators: 60 } as const
    const { chances } = timeToCountSignal('zone-tests', change, 12)
    const random = createRandom(9)
    const draw = binomialDraw(60, 0.18)
    const sigma = Math.sqrt((0.3 * 0.7) / 60)
    const charts = 20_000
    let signals = 0
    for (let c = 0; c < charts; c++) {
      const z = Array.from({ length: 12 }, () => (draw(random) / 60 - 0.3) / sigma)
      const side = z.filter((x) => Math.abs(x) > 1e-9)
      const within = (need: number, of: number, beyond: number) =>
        z.some((_, i) => {
          const w = z.slice(Math.max(0, i - of + 1), i + 1)
          return (
            w.filter((x) => x > beyond).length >= need ||
            w.filter((x) => x < -beyond).length >= need
          )
        })
      const run = side.some((_, i) => {
        const w = side.slice(i, i + 8)
        return w.length === 8 && (w.every((x) => x > 0) || w.every((x) => x < 0))
      })
      if (run || within(1, 1, 3) || within(2, 3, 2) || within(4, 5, 1)) signals++
    }
    const error = Math.sqrt((chances[11]! * (1 - chances[11]!)) / charts)
    expect(Math.abs(signals / charts - chances[11]!)).toBeLessThan(4 * error)
  })

  it('ER6: comes close to the normal answer where counts are large', () => {
    const n = 40_000
    const sigma = Math.sqrt((0.3 * 0.7) / n)
    const counts = timeToCountSignal(
      'zone-tests',
      { kind: 'p', before: 0.3, after: 0.3 + sigma, denominators: n },
      20,
    )
    expect(counts.chances[19]).toBeCloseTo(
      chanceOfSignal(RULE_SETS['zone-tests'].pointRules, 20, 1),
      2,
    )
    const rates = timeToCountSignal(
      'zone-tests',
      { kind: 'u', before: 2, after: 2 + Math.sqrt(2 / n), denominators: n },
      20,
    )
    expect(rates.chances[19]).toBeCloseTo(
      chanceOfSignal(RULE_SETS['zone-tests'].pointRules, 20, 1),
      2,
    )
  })

  it('ER6: answers for counts in the millions as for those just below', () => {
    const chance = (n: number) => {
      const after = 0.3 + Math.sqrt(0.21 / n)
      return timeToCountSignal('zone-tests', { kind: 'p', before: 0.3, after, denominators: n }, 20)
        .chances[19]!
    }
    expect(chance(10_000_000)).toBeCloseTo(chance(4_000_000), 3)
  })

  it('ER6: finds the denominator for 80 % within 10 points', () => {
    const change = { kind: 'p', before: 0.2, after: 0.1 } as const
    const n = denominatorForSignal('shewhart-healthcare', change, 10)!
    const chance = (denominators: number) =>
      timeToCountSignal('shewhart-healthcare', { ...change, denominators }, 10).chances[9]!
    expect(chance(n)).toBeGreaterThanOrEqual(0.8)
    expect(chance(Math.floor(n * 0.7))).toBeLessThan(0.8)
    expect(denominatorForSignal('shewhart-healthcare', { ...change, after: 0.2 }, 10)).toBeNull()
  })

  it('ER6: goes through a list of denominators in turn', () => {
    const one = (denominators: number | number[]) =>
      timeToCountSignal('zone-tests', { kind: 'u', before: 0.1, after: 0.3, denominators }, 6)
        .chances
    expect(one([40, 40])).toEqual(one(40))
    expect(one([40, 400])[1]).toBeGreaterThan(one(40)[1]!)
  })

  it.each([
    { before: -0.1, after: 0.1, denominators: 10 },
    { before: 0.1, after: 1.1, denominators: 10 },
    { before: 0.1, after: 0.2, denominators: 0 },
    { before: 0.1, after: 0.2, denominators: 2.5 },
    { before: 0.1, after: 0.2, denominators: [] },
  ])('refuses $before to $after with $denominators', (wrong) => {
    expect(() => timeToCountSignal('zone-tests', { kind: 'p', ...wrong })).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})
