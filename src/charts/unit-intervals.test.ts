import { expect, it } from 'vitest'
import type { Mark, MarkRole } from './marks.ts'
import { layOutUnitIntervals, type UnitIntervalsSpec } from './unit-intervals.ts'

const spec: UnitIntervalsSpec = {
  units: [
    { name: 'Ward 4', change: { value: -12, low: -16, high: -8 }, words: '12 lower' },
    { name: 'Ward 7', change: { value: -4, low: -9, high: 1 }, words: 'Not clear' },
    { name: 'Clinic', change: null, words: 'Too little to tell: 4 points before and 2 after.' },
  ],
  together: { value: -9, low: -20, high: 2 },
  scale: 'difference',
  format: 'number',
  axisTitle: 'minutes, against the line before',
  width: 720,
}
const of = (marks: readonly Mark[], role: MarkRole) => marks.filter((m) => m.role === role)
const texts = (marks: readonly Mark[]) => marks.flatMap((m) => (m.shape === 'text' ? [m.text] : []))
const circles = (marks: readonly Mark[]) =>
  marks.flatMap((m) => (m.shape === 'circle' && m.role === 'outcome' ? [m] : []))

it('draws an interval for each unit that tells enough, from top to bottom', () => {
  const { marks, height } = layOutUnitIntervals(spec)
  // The first is the sample in the key.
  const [, ward4, ward7, ...more] = circles(marks)
  expect(more).toEqual([])
  expect(ward4!.cx).toBeLessThan(ward7!.cx)
  expect(ward4!.cy).toBeLessThan(ward7!.cy)
  expect(ward7!.cy).toBeLessThan(height)
  expect(texts(marks)).toContain('Too little to tell: 4 points before and 2 after.')
})

it('lays all units together under them as a band, and leaves it out where it is not told', () => {
  const { marks } = layOutUnitIntervals(spec)
  expect(of(marks, 'band')).toHaveLength(2)
  expect(of(marks, 'center')).toHaveLength(2)
  const alone = layOutUnitIntervals({ ...spec, together: null }).marks
  expect([...of(alone, 'band'), ...of(alone, 'center')]).toEqual([])
  expect(texts(alone)).not.toContain('all units together')
})

it('puts halving as far from no change as doubling, and cuts what reaches too far', () => {
  const ratios: UnitIntervalsSpec = {
    ...spec,
    scale: 'ratio',
    units: [
      { name: 'A', change: { value: 0.5, low: 0.001, high: 0.8 }, words: '' },
      { name: 'B', change: { value: 2, low: 1.2, high: 3 }, words: '' },
    ],
    together: { value: 1, low: 0.5, high: 2 },
  }
  const { marks } = layOutUnitIntervals(ratios)
  const [, a, b] = circles(marks)
  const rail = of(marks, 'rail')[0]!
  const none = Number(rail.shape === 'path' ? /^M([\d.]+)/.exec(rail.d)![1] : Number.NaN)
  expect(none - a!.cx).toBeCloseTo(b!.cx - none, 0)
  const caps = of(marks, 'span').map((m) => (m.shape === 'path' ? m.d.split('V').length - 1 : 0))
  expect(caps).toEqual([0, 1, 2])
  expect(texts(marks)).toEqual(expect.arrayContaining(['no change', '× ½', '× 2']))
})

it('draws nothing behind the words that stand above their interval', () => {
  const { marks } = layOutUnitIntervals({ ...spec, width: 360 })
  const words = marks.flatMap((m) => (m.shape === 'text' && m.role !== 'tick-text' ? [m] : []))
  const rail = of(marks, 'rail')[0]!
  const pieces = [...(rail.shape === 'path' ? rail.d : '').matchAll(/M[\d.]+,([\d.]+)V([\d.]+)/g)]
  expect(pieces).toHaveLength(3)
  for (const { y, size } of words)
    for (const [, from, to] of pieces) expect(y < Number(from) || y - size > Number(to)).toBe(true)
})

it.each([280, 360, 720, 1280])('keeps everything within %i pixels', (width) => {
  const { marks, height } = layOutUnitIntervals({ ...spec, width })
  for (const mark of marks) {
    if (mark.shape === 'circle') expect(mark.cx + mark.r).toBeLessThanOrEqual(width)
    if (mark.shape === 'text') {
      expect(mark.x).toBeGreaterThanOrEqual(0)
      expect(mark.x).toBeLessThanOrEqual(width)
      expect(mark.y).toBeLessThanOrEqual(height)
    }
    if (mark.shape === 'path')
      for (const [, x] of mark.d.matchAll(/[MLH](-?[\d.]+)/g)) {
        expect(Number(x)).toBeGreaterThanOrEqual(0)
        expect(Number(x)).toBeLessThanOrEqual(width)
      }
  }
})

it('never lays two words of the axis on each other, and signs its differences', () => {
  const { marks } = layOutUnitIntervals(spec)
  expect(texts(marks)).toEqual(expect.arrayContaining(['no change', '−10']))
})

it('has nothing to draw without a unit', () => {
  expect(() => layOutUnitIntervals({ ...spec, units: [] })).toThrow(
    expect.objectContaining({ code: 'chart.no_points' }),
  )
})
