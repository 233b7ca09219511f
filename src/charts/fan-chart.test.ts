import { describe, expect, it } from 'vitest'
import { type FanSpec, layOutFan } from './fan-chart.ts'

const spec = (own: Partial<FanSpec> = {}): FanSpec => ({
  recent: [12, 9, 10, 11],
  center: 10.5,
  lower: 4,
  upper: 17,
  bracket: { low: 5, expected: 6, high: 8 },
  predicted: { lower: [3, 4, 5], upper: [9, 8, 7] },
  unchanged: { lower: [7, 8, 9], upper: [14, 13, 12] },
  ticks: [
    { at: 2, text: 'half' },
    { at: 3, text: '9 in 10' },
    { at: 40, text: 'never' },
  ],
  word: 'week',
  format: (value) => String(value),
  width: 640,
  ...own,
})
const numbers = (d: string) => [...d.matchAll(/-?\d+(?:\.\d+)?/g)].map(Number)

describe('layOutFan', () => {
  it.each([280, 640, 1280])('keeps every mark inside the picture at %d pixels', (width) => {
    const { height, marks } = layOutFan(spec({ width }))
    for (const mark of marks) {
      if (mark.shape === 'text') expect(mark.x).toBeLessThanOrEqual(width)
      if (mark.shape === 'circle') expect(mark.cy).toBeLessThanOrEqual(height)
      if (mark.shape === 'path')
        for (const n of numbers(mark.d)) {
          expect(n).toBeGreaterThanOrEqual(0)
          expect(n).toBeLessThanOrEqual(Math.max(width, height))
        }
    }
  })

  it('draws both fans, the bracket and the times that are reached', () => {
    const { marks } = layOutFan(spec())
    const of = (role: string) => marks.filter((m) => m.role === role)
    expect(of('fan')).toHaveLength(1)
    expect(of('fan-none')).toHaveLength(1)
    expect(of('bracket')).toHaveLength(1)
    expect(of('fan-tick')).toHaveLength(2)
    expect(of('point')).toHaveLength(4)
    expect(of('fan-text').map((m) => m.shape === 'text' && m.text)).toEqual(['half', '9 in 10'])
  })

  it('puts the fan after the points, higher values higher up', () => {
    const { marks } = layOutFan(spec())
    const path = marks.find((m) => m.role === 'fan')!
    const [x, y] = numbers(path.shape === 'path' ? path.d : '')
    const points = marks.filter((m) => m.role === 'point')
    const last = points.at(-1)!
    expect(x!).toBeGreaterThan(last.shape === 'circle' ? last.cx : Infinity)
    // Upper end of the first fan is 9, as the second point.
    expect(points[1]).toMatchObject({ cy: y })
  })

  it('stands without points and limits, for a guess', () => {
    const { marks } = layOutFan(spec({ recent: [], lower: null, upper: null, bracket: null }))
    expect(marks.some((m) => m.role === 'fan')).toBe(true)
    expect(marks.some((m) => m.role === 'phase-border')).toBe(false)
  })
})
