import { expect, it } from 'vitest'
import { SHIPPED_KITS } from '../../../domain/workshop/kits/shipped-kits.ts'
import { sheetSpace } from './sheet-space.ts'

const kitOf = (items: number, letters: number) => ({
  checklist: Array.from({ length: items }, () => 'x'.repeat(letters)),
  clockStarts: 'The clock starts at the word.',
  clockStops: 'The clock stops at the word.',
})

it('leaves a plot that can be drawn on in every kit that comes with Pawl', () => {
  for (const { kit } of SHIPPED_KITS) expect(sheetSpace(kit).plot, kit.name).toBeGreaterThan(100)
})

it('gives a longer checklist a lower plot, then smaller letters', () => {
  const short = sheetSpace(kitOf(6, 30))
  const longer = sheetSpace(kitOf(12, 80))
  const longest = sheetSpace(kitOf(20, 80))
  expect(short.dense).toBe(false)
  expect(longer.plot).toBeLessThan(short.plot)
  expect(longest.dense).toBe(true)
})
