import { describe, expect, it } from 'vitest'
import { intervalScore } from '../stats/interval-score.ts'
import { createRandom } from '../stats/special/random.ts'
import { type RangeWidth, rangeWidth, rangeWidthText } from './range-width.ts'

const range = (half: number, outcome: number, own = {}) => ({
  low: 100 - half,
  expected: 100,
  high: 100 + half,
  outcome,
  confidence: 0.8,
  ...own,
})
/** z for 80 % of a normal distribution: 1.2816 (any printed table of its quantiles). */
const Z80 = 1.2816
/** Outcomes 100 plus normal scatter of 10, ranges so many times the 80 % range. */
const story = (seed: number, n: number, times: number) => {
  const random = createRandom(seed)
  return Array.from({ length: n }, () => range(times * Z80 * 10, 100 + 10 * random.normal()))
}
type Judged = Exclude<RangeWidth, { kind: 'too-few' }>

describe('rangeWidth', () => {
  it('finds the factor with the lowest mean interval score (Gneiting & Raftery 2007, eq. 43)', () => {
    const told = story(3, 40, 0.5)
    const { factor } = rangeWidth(told) as Judged
    const total = (k: number) =>
      told.reduce((sum, r) => {
        const end = (x: number) => r.expected + k * (x - r.expected)
        return sum + intervalScore(end(r.low), end(r.high), r.outcome, 0.8)
      }, 0)
    for (let k = 0.05; k < 5; k += 0.05) expect(total(factor)).toBeLessThanOrEqual(total(k) + 1e-9)
  })

  it('comes to the normal quantiles on many outcomes: half as wide calls for twice', () => {
    const half = rangeWidth(story(1, 4000, 0.5)) as Judged
    expect(half.kind).toBe('wider')
    expect(half.factor).toBeCloseTo(2, 0)
    const twice = rangeWidth(story(2, 4000, 2)) as Judged
    expect(twice.kind).toBe('narrower')
    expect(twice.factor).toBeCloseTo(0.5, 1)
    expect(Math.abs((rangeWidth(story(4, 4000, 1)) as Judged).factor - 1)).toBeLessThan(0.05)
  })

  it('is the same whatever the unit, and with units mixed', () => {
    const seconds = story(5, 30, 0.4)
    const inMinutes = seconds.map((r, i) => {
      const by = i % 2 === 0 ? 60 : 1
      const { low, expected, high, outcome } = r
      return {
        ...r,
        low: low / by,
        expected: expected / by,
        high: high / by,
        outcome: outcome / by,
      }
    })
    const [a, b] = [rangeWidth(seconds), rangeWidth(inMinutes)] as Judged[]
    expect(b!.kind).toBe(a!.kind)
    expect(b!.factor).toBeCloseTo(a!.factor, 9)
    expect(b!.saved).toBeCloseTo(a!.saved, 9)
  })

  it('seldom calls another width better where the ranges are right (1,000 seeded stories)', () => {
    let claimed = 0
    for (let seed = 0; seed < 1000; seed++)
      if (rangeWidth(story(seed, 16, 1)).kind !== 'open') claimed++
    // 5 % is what a 95 % interval allows; three standard errors of 1,000 stories are 2 points.
    expect(claimed / 1000).toBeLessThan(0.07)
  })

  it('sees ranges of a third of their width in most stories of 16', () => {
    let seen = 0
    for (let seed = 0; seed < 200; seed++)
      if (rangeWidth(story(seed, 16, 1 / 3)).kind === 'wider') seen++
    expect(seen / 200).toBeGreaterThan(0.9)
  })

  it('leaves out what cannot be stretched', () => {
    const points = Array.from({ length: 12 }, () => range(0, 105))
    const ends = Array.from({ length: 12 }, () => range(10, 120, { high: 100 }))
    expect(rangeWidth([...points, ...ends])).toEqual({ kind: 'too-few', n: 0 })
  })

  it('holds where every outcome is the expected value', () => {
    const exact = Array.from({ length: 20 }, () => range(10, 100))
    const found = rangeWidth(exact) as Judged
    expect(found).toMatchObject({ kind: 'narrower', factor: 0, saved: 1 })
  })
})

describe('the sentence', () => {
  it.each([
    [{ kind: 'too-few', n: 9 }, /^Too few to tell .*: that takes 10\.$/],
    [
      { kind: 'wider', n: 20, factor: 1.74, saved: 0.346 },
      'The misses cost more than the narrow ranges saved. About 1.7 times as wide around the same expected values, the interval score would have been 35 % lower.',
    ],
    [
      { kind: 'narrower', n: 20, factor: 0.52, saved: 0.25 },
      'The ranges were wider than the outcomes call for. About 0.5 times as wide around the same expected values, the interval score would have been 25 % lower.',
    ],
    [{ kind: 'narrower', n: 20, factor: 0, saved: 1 }, /About a quarter or less as wide/],
    [{ kind: 'wider', n: 20, factor: 31, saved: 0.9 }, /About 10 times or more as wide/],
    [
      { kind: 'open', n: 20, factor: 1.2, saved: 0.01 },
      'The outcomes do not clearly call for wider or narrower ranges.',
    ],
  ] as const)('says it (%#)', (found, text) => {
    expect(rangeWidthText(found)).toMatch(text)
  })
})
