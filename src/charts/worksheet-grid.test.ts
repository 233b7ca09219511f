import { describe, expect, it } from 'vitest'
import type { CircleMark, TextMark } from './marks.ts'
import { layOutWorksheetGrid } from './worksheet-grid.ts'

const size = { width: 640, height: 220 }
const texts = (picture: ReturnType<typeof layOutWorksheetGrid>) =>
  picture.marks.filter((m): m is TextMark => m.shape === 'text').map(({ text }) => text)

describe('the plot of a worksheet', () => {
  it('leaves the time axis of a blank sheet to its table', () => {
    expect(texts(layOutWorksheetGrid({ rounds: 3, filled: [], ...size }))).toEqual([
      'Round 1',
      'Round 2',
      'Round 3',
    ])
  })

  // METHODS 2: the best result falls off a hand-drawn axis.
  it('holds every time and every prediction on the axis of a filled one', () => {
    const filled = [
      { round: 1, seconds: 96, predicted: { low: 50, expected: 70, high: 90 } },
      { round: 2, seconds: 12, predicted: { low: 60, expected: 75, high: 110 } },
      { round: 3, seconds: null, predicted: null },
    ]
    const picture = layOutWorksheetGrid({ rounds: 4, filled, ...size })
    const dots = picture.marks.filter((m): m is CircleMark => m.shape === 'circle')
    expect(dots).toHaveLength(2)
    for (const { cx, cy } of dots) {
      expect(cx).toBeGreaterThan(0)
      expect(cx).toBeLessThan(size.width)
      expect(cy).toBeGreaterThanOrEqual(0)
      expect(cy).toBeLessThan(size.height)
    }
    // The quicker round is the lower dot.
    expect(dots[1]!.cy).toBeGreaterThan(dots[0]!.cy)
    expect(texts(picture)).toContain('2:00')
    expect(picture.marks.filter(({ role }) => role === 'bracket').length).toBeGreaterThan(0)
  })
})
