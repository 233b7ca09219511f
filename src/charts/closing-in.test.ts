import { describe, expect, it } from 'vitest'
import { layOutClosingIn } from './closing-in.ts'

const ranges = [
  { step: 1, low: 0.5, expected: 0.8, high: 1.4 },
  { step: 1, low: 1.2, expected: 1.5, high: 30 },
  { step: 2, low: 0.9, expected: 1, high: 1.1 },
]
const numbers = (d: string) => [...d.matchAll(/-?\d+(?:\.\d+)?/g)].map(Number)

describe('layOutClosingIn', () => {
  it.each([280, 640, 1280])('keeps every bracket inside the picture at %d pixels', (width) => {
    const { height, marks } = layOutClosingIn({ ranges, width })
    const brackets = marks.filter((m) => m.role === 'bracket')
    expect(brackets).toHaveLength(3)
    for (const mark of brackets)
      for (const n of mark.shape === 'path' ? numbers(mark.d) : []) {
        expect(n).toBeGreaterThanOrEqual(0)
        expect(n).toBeLessThanOrEqual(Math.max(width, height))
      }
  })

  it('draws twice as high as far up as half is down', () => {
    const { marks } = layOutClosingIn({
      ranges: [{ step: 1, low: 0.5, expected: 1, high: 2 }],
      width: 640,
    })
    const line = marks.find((m) => m.role === 'center')!
    const bracket = marks.find((m) => m.role === 'bracket')!
    const middle = line.shape === 'path' ? numbers(line.d)[1]! : 0
    const [, high, , , low] = bracket.shape === 'path' ? numbers(bracket.d) : []
    expect(low! - middle).toBeCloseTo(middle - high!, 0)
  })

  it('names each place in the chain', () => {
    const { marks } = layOutClosingIn({ ranges, width: 640 })
    const texts = marks.flatMap((m) => (m.shape === 'text' ? [m.text] : []))
    expect(texts).toContain('test 1 of its chain')
    expect(texts).toContain('test 2 of its chain')
  })
})
