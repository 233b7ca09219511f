import { describe, expect, it } from 'vitest'
import type { Kit } from '../kit.ts'
import { scoreOf } from '../kit.ts'
import { KIT_LIMITS, kitIssues } from '../kit-issues.ts'
import { SHIPPED_KITS } from './shipped-kits.ts'

const textsOf = (kit: Kit) => [
  kit.summary,
  ...kit.bring,
  ...kit.task,
  kit.clockStarts,
  kit.clockStops,
  kit.card.note,
  ...kit.checklist,
  ...kit.prompts,
  ...kit.hints,
  ...kit.variations,
]

it('ships six kits, each under a key and a name of its own', () => {
  expect(SHIPPED_KITS).toHaveLength(6)
  expect(new Set(SHIPPED_KITS.map(({ key }) => key)).size).toBe(6)
  expect(new Set(SHIPPED_KITS.map(({ kit }) => kit.name)).size).toBe(6)
  for (const { key } of SHIPPED_KITS) expect(key).toMatch(/^[a-z]+(-[a-z]+)*$/)
})

it('says nothing twice, in one kit or in two', () => {
  const all = SHIPPED_KITS.flatMap(({ kit }) => textsOf(kit).map((text) => text.toLowerCase()))
  expect(all.filter((text, i) => all.indexOf(text) !== i)).toEqual([])
})

describe.each(SHIPPED_KITS)('$key', ({ kit }) => {
  it('has no issue', () => {
    expect(kitIssues(kit)).toEqual([])
  })

  it('has something to read everywhere', () => {
    for (const text of textsOf(kit)) expect(text.trim().length).toBeGreaterThan(8)
    expect(kit.prompts.length).toBeGreaterThanOrEqual(3)
    expect(kit.hints.length).toBeGreaterThanOrEqual(5)
    expect(kit.variations.length).toBeGreaterThanOrEqual(2)
  })

  it('says how somebody who stays seated takes part', () => {
    expect(kit.hints.some((hint) => /\b(seated|chairs|sits?)\b/i.test(hint))).toBe(true)
  })

  it('has 6 to 20 plain items and a top step that means all of them', () => {
    const n = kit.checklist.length
    const [least, most] = KIT_LIMITS.checklist
    expect(n).toBeGreaterThanOrEqual(least)
    expect(n).toBeLessThanOrEqual(most)
    // Common practice: three steps, the top one for every item in place.
    expect(kit.score).toHaveLength(3)
    expect(kit.score.at(-1)!.atLeast).toBe(0)
    expect([n, n - 1, n - 2, n - 3, 0].map((right) => scoreOf(kit.score, right, n)!.score)).toEqual(
      [3, 2, 2, 1, 1],
    )
  })

  it('says a different thing for the start of the clock than for its stop', () => {
    expect(kit.clockStarts).toMatch(/^The clock starts when /)
    expect(kit.clockStops).toMatch(/^The clock stops (when|at) /)
  })
})
