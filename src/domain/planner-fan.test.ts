import { describe, expect, it } from 'vitest'
import { fanOf } from './planner-fan.ts'

describe('fanOf', () => {
  it('narrows with the root of the number of points, from the 90 % point of the normal (1.2816)', () => {
    const { lower, upper } = fanOf({ model: { kind: 'normal', sigma: 2 } }, 10, 16)
    expect(upper[0]).toBeCloseTo(10 + 2 * 1.2816, 3)
    expect(lower[15]).toBeCloseTo(10 - (2 * 1.2816) / 4, 3)
  })

  it('keeps shares and counts where they can be', () => {
    const share = fanOf({ model: { kind: 'p', denominators: [5] } }, 0.9, 2)
    expect(share.upper[0]).toBe(1)
    expect(share.lower[1]).toBeCloseTo(0.9 - 1.2816 * Math.sqrt(0.09 / 10), 3)
    expect(fanOf({ model: { kind: 'u', denominators: [1] } }, 1, 1).lower[0]).toBe(0)
    expect(fanOf({ model: { kind: 'g' } }, 20, 1).lower[0]).toBe(0)
  })
})
