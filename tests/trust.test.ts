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
    const covered = sum(tallies, 'covered') / n
    expect(covered).toBeGreaterThanOrEqual(0.94 - 3 * Math.sqrt((0.94 * 0.06) / n))
    expect(covered).toBeLessThanOrEqual(0.97 + 3 * Math.sqrt((0.97 * 0.03) / n))
  })

  it('holds back where neighbouring points are alike, though intervals tempt to a claim', () => {
    const alike = SITUATIONS.find(({ r1 }) => r1 === 0.6)!
    const tallies = KINDS.map((kind) => tallyOf(kind, alike, 60, SEED, [[12, 6]]))
    const n = sum(tallies, 'stories')
    expect(sum(tallies, 'tempting') / n).toBeGreaterThan(0.05)
    expect(sum(tallies, 'falseClaims') / n).toBeLessThanOrEqual(atMost(0.05, n))
    // Eighteen points cannot show the likeness: every interval says what it takes for granted.
    expect(sum(tallies, 'conditionBroken')).toBe(sum(tallies, 'printed'))
  })

  it.each([0.3, 0.6])(
    'holds the true change from 20 points on where neighbours are alike at %s',
    (r1) => {
      const alike = SITUATIONS.find((s) => s.r1 === r1)!
      const tallies = KINDS.map((kind) =>
        tallyOf(kind, alike, 60, SEED, [
          [24, 12],
          [36, 24],
        ]),
      )
      const n = sum(tallies, 'intervals')
      expect(sum(tallies, 'conditionBroken')).toBe(0)
      const covered = sum(tallies, 'covered') / n
      expect(covered).toBeGreaterThanOrEqual(0.94 - 3 * Math.sqrt((0.94 * 0.06) / n))
      expect(covered).toBeLessThanOrEqual(0.97 + 3 * Math.sqrt((0.97 * 0.03) / n))
    },
  )

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
