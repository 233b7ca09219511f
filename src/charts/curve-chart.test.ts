import { describe, expect, it } from 'vitest'
import { layOutAgreement } from './agreement-chart.ts'
import { type CurveChartSpec, layOutCurve } from './curve-chart.ts'
import type { CircleMark, MarkRole, Picture } from './marks.ts'

const bracket = (low: number, high: number) => ({ low, high, expected: (low + high) / 2 })
const spec: CurveChartSpec = {
  points: [
    { round: 1, value: 100, bracket: bracket(60, 90) },
    { round: 2, value: null, bracket: bracket(20, 300) },
    { round: 3, value: 70, bracket: null },
    { round: 4, value: 64, bracket: bracket(50, 70) },
  ],
  curve: {
    first: 100,
    exponent: -0.32193,
    turns: [1, 3, 4].map((n) => ({ round: n, turn: n })),
  },
  format: 'duration',
  width: 720,
}
const within = (picture: Picture) =>
  picture.marks.every((mark) => {
    const numbers =
      mark.shape === 'path'
        ? [...mark.d.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n))
        : mark.shape === 'circle'
          ? [mark.cx, mark.cy]
          : [mark.x, mark.y]
    return numbers.every((n) => n >= 0 && n <= Math.max(picture.width, picture.height))
  })
const circles = (picture: Picture, role: MarkRole) =>
  picture.marks.filter((m): m is CircleMark => m.shape === 'circle' && m.role === role)
const paths = (picture: Picture, role: MarkRole) =>
  picture.marks.flatMap((m) => (m.shape === 'path' && m.role === role ? [m.d] : []))

describe('layOutCurve', () => {
  it.each([200, 360, 720, 1280])(
    'keeps values, brackets and curve on the axis at %i px',
    (width) => {
      expect(within(layOutCurve({ ...spec, width }))).toBe(true)
    },
  )

  it('stretches the axis to a bracket far beyond the values', () => {
    const [, second] = paths(layOutCurve(spec), 'bracket')
    const heights = [...second!.matchAll(/,(\d+(\.\d+)?)/g)].map(([, h]) => Number(h))
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(0)
  })

  it('draws a dot for each value, a bracket for each prediction, and no line over a gap', () => {
    const picture = layOutCurve(spec)
    expect(circles(picture, 'outcome')).toHaveLength(3)
    expect(paths(picture, 'bracket')).toHaveLength(3)
    const [line, ...others] = paths(picture, 'line')
    expect(others).toEqual([])
    expect(line!.match(/[ML]/g)).toHaveLength(2)
  })

  it('runs the curve through points that lie on it', () => {
    const picture = layOutCurve({ ...spec, points: [{ round: 1, value: 100, bracket: null }] })
    const start = paths(picture, 'projection')[0]!.match(/^M([\d.]+),([\d.]+)/)!
    const [dot] = circles(picture, 'outcome')
    expect([Number(start[1]), Number(start[2])]).toEqual([dot!.cx, dot!.cy])
  })

  it('shares its axes where it is told to', () => {
    const share = { rounds: [1, 2, 3, 4], values: [10, 400] }
    const height = (value: number) =>
      circles(
        layOutCurve({ ...spec, curve: null, share, points: [{ round: 2, value, bracket: null }] }),
        'outcome',
      )[0]!
    const { cx, cy } = height(100)
    expect(height(100).cy).toBe(cy)
    expect(cx).toBeGreaterThan(180)
    expect(height(200).cy).toBeLessThan(cy)
  })

  it('refuses to draw nothing', () => {
    expect(() => layOutCurve({ ...spec, points: [] })).toThrow(
      expect.objectContaining({ code: 'chart.no_points' }),
    )
  })
})

describe('layOutAgreement', () => {
  const pairs = [
    { mean: 60.5, difference: 1 },
    { mean: 50.2, difference: -0.4 },
    { mean: 44, difference: 0.3 },
  ]
  const limits = { bias: 0.3, lower: -1.07, upper: 1.67 }

  it.each([200, 360, 720])('keeps pairs, limits and zero on the axes at %i px', (width) => {
    const picture = layOutAgreement({ pairs, limits, width })
    expect(within(picture)).toBe(true)
    expect(circles(picture, 'point')).toHaveLength(3)
    expect(paths(picture, 'limit')).toHaveLength(1)
  })

  it('draws no limits where there are too few pairs', () => {
    const picture = layOutAgreement({ pairs: pairs.slice(0, 1), limits: null, width: 400 })
    expect([...paths(picture, 'limit'), ...paths(picture, 'center')]).toEqual([])
    expect(paths(picture, 'rail')).toHaveLength(1)
  })

  it('puts a first timer that reads more above zero', () => {
    const picture = layOutAgreement({ pairs, limits, width: 400 })
    const zero = Number(paths(picture, 'rail')[0]!.match(/,([\d.]+)H/)![1])
    const [over, under] = circles(picture, 'point')
    expect(over!.cy).toBeLessThan(zero)
    expect(under!.cy).toBeGreaterThan(zero)
  })

  it('refuses to draw nothing', () => {
    expect(() => layOutAgreement({ pairs: [], limits, width: 400 })).toThrow(
      expect.objectContaining({ code: 'chart.no_points' }),
    )
  })
})
