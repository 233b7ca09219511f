import { describe, expect, it } from 'vitest'
import { KINDS, SITUATIONS } from './trust/stories.ts'
import { type Tally, tallyOf } from './trust/tally.ts'

// Invented stories whose truth is known, read as the page tells them; `npm run trust` is the long run.

const SEED = 20260302
const none = SITUATIONS.filter(({ shift }) => shift === 0)
const steps = SITUATIONS.filter(({ drift, season, r1 }) => !(drift || season || r1))
const sum = (tallies: readonly Tally[], part: keyof Tally) =>
  tallies.reduce((total, t) => total + t[part], 0)
/** A stated rate, and three standard errors of `n` stories. */
const atMost = (rate: number, n: number) => rate + 3 * Math.sqrt((rate * (1 - rate)) / n)

describe('findings of invented stories', () => {
  it.each(KINDS)('%s: at most 5 % claim a change that is not there', (kind) => {
    const tallies = none.map((situation) => tallyOf(kind, situation, 60, SEED))
    const n = sum(tallies, 'stories')
    expect(sum(tallies, 'falseClaims') / n).toBeLessThanOrEqual(atMost(0.05, n))
    // Without a claim the page says why: too little to tell, or which assumption fails.
    expect(sum(tallies, 'claims') + sum(tallies, 'tooLittle') + sum(tallies, 'refused')).toBe(n)
  })

  it.each(KINDS)('%s: the printed interval holds the true change, as it says', (kind) => {
    const tallies = steps.map((situation) => tallyOf(kind, situation, 60, SEED))
    const n = sum(tallies, 'intervals')
    expect(sum(tallies, 'covered') / n).toBeGreaterThanOrEqual(0.95 - 3 * Math.sqrt(0.0475 / n))
  })

  it('holds back where neighbouring points are alike, though intervals tempt to a claim', () => {
    const alike = SITUATIONS.find(({ r1 }) => r1 === 0.6)!
    const tallies = KINDS.map((kind) => tallyOf(kind, alike, 60, SEED, [[12, 6]]))
    const n = sum(tallies, 'stories')
    expect(sum(tallies, 'tempting') / n).toBeGreaterThan(0.05)
    expect(sum(tallies, 'falseClaims') / n).toBeLessThanOrEqual(atMost(0.05, n))
  })

  it('claims nothing from three points before and three after, whatever happened', () => {
    for (const kind of KINDS)
      for (const situation of SITUATIONS)
        expect(tallyOf(kind, situation, 12, SEED, [[3, 3]]).claims).toBe(0)
  })

  it('finds a large change in long series, and says which way it went', () => {
    for (const name of ['large', 'worse']) {
      const situation = SITUATIONS.find((s) => s.name === name)!
      const tallies = KINDS.map((kind) => tallyOf(kind, situation, 30, SEED, [[36, 24]]))
      expect(sum(tallies, 'claims') / sum(tallies, 'stories')).toBeGreaterThan(0.85)
      expect(sum(tallies, 'falseClaims')).toBe(0)
    }
  })
})
