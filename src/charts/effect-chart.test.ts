import { describe, expect, it } from 'vitest'
import { type EffectChartSpec, layOutEffectChart } from './effect-chart.ts'
import { effectSentences } from './effect-words.ts'
import type { CircleMark, MarkRole } from './marks.ts'
import { paintSvg } from './paint-svg.ts'
import { layOutResiduals } from './residual-chart.ts'

const at = (i: number) => `2026-${String(i + 1).padStart(2, '0')}-01`
const points = Array.from({ length: 12 }, (_, i) => ({ at: at(i), value: i < 6 ? 10 : 4 }))
const spec: EffectChartSpec = {
  points,
  fitted: points.map((p) => p.value),
  breakAt: 6,
  breakLabel: '2026-07-01',
  projected: [6, 9, 11].map((i) => ({ at: at(i), value: 10, low: 8, high: 100 })),
  start: { at: at(6), from: at(5), to: at(7) },
  tests: [
    { id: 'a', number: 1, label: 'One', mark: 'adopt', from: '2026-07-01', to: '2026-07-20' },
  ],
  format: 'number',
  width: 720,
}
const paths = (width: number, role: MarkRole) =>
  layOutEffectChart({ ...spec, width }).marks.flatMap((m) =>
    m.role === role && m.shape === 'path' ? [m.d] : [],
  )

describe('layOutEffectChart', () => {
  it.each([320, 720, 1280])('keeps every mark within the picture at %i px', (width) => {
    const chart = layOutEffectChart({ ...spec, width })
    for (const mark of chart.marks) {
      const numbers =
        mark.shape === 'path'
          ? [...mark.d.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n))
          : mark.shape === 'circle'
            ? [mark.cx, mark.cy]
            : [mark.x, mark.y]
      for (const n of numbers) {
        expect(n).toBeGreaterThanOrEqual(0)
        expect(n).toBeLessThanOrEqual(Math.max(chart.width, chart.height))
      }
    }
  })

  it('has a column over each point, from edge to edge, and a sentence for it', () => {
    const { points: targets, plot } = layOutEffectChart(spec)
    expect(targets.map((t) => t.index)).toEqual([...points.keys()])
    expect(targets[0]!.hit.x).toBeCloseTo(plot.x, 1)
    const last = targets.at(-1)!.hit
    expect(last.x + last.width).toBeCloseTo(plot.x + plot.width, 0)
    for (const { x, hit } of targets) {
      expect(x).toBeGreaterThanOrEqual(hit.x)
      expect(x).toBeLessThanOrEqual(hit.x + hit.width)
    }
    const said = effectSentences(spec)
    expect(said[0]).toMatch(/2026.*: 10; fitted line 10\.0\.$/)
    expect(said[6]).toMatch(
      /: 4; fitted line 4\.0; line before, carried on 10\.0 \(95 % interval 8\.0 to 100\.0\)\.$/,
    )
    expect(said[7]).toMatch(/: 4; fitted line 4\.0\.$/)
  })

  it('draws one line before the break and one after, and the first one carried on', () => {
    // The first of each role is its sample in the key.
    expect(paths(720, 'center')).toHaveLength(3)
    const [, before, after] = paths(720, 'center')
    const [, carried] = paths(720, 'projection')
    const heights = (d: string) => [...d.matchAll(/,(\d+(\.\d+)?)/g)].map(([, y]) => Number(y))
    expect(new Set(heights(carried!)).size).toBe(1)
    expect(heights(carried!)[0]).toBe(heights(before!)[0])
    expect(heights(after!)[0]).toBeGreaterThan(heights(before!)[0]!)
  })

  it('cuts a far interval at the edge instead of flattening the points', () => {
    const chart = layOutEffectChart(spec)
    const dots = chart.marks.filter((m) => m.role === 'point') as CircleMark[]
    const heights = dots.map((d) => d.cy)
    expect(Math.max(...heights) - Math.min(...heights)).toBeGreaterThan(0.3 * chart.plot.height)
  })

  it('sets when a step may have begun over the tooth of the test', () => {
    const chart = layOutEffectChart(spec)
    const span = chart.marks.find((m) => m.role === 'outcome') as CircleMark
    const [tooth] = chart.teeth
    expect(span.cy).toBeLessThan(tooth!.hit.y + tooth!.hit.height)
    expect(Math.abs(span.cx - tooth!.hit.x)).toBeLessThan(40)
    expect(layOutEffectChart({ ...spec, start: null }).marks.some((m) => m.role === 'span')).toBe(
      false,
    )
  })

  it('is painted by the same painter as every other picture', () => {
    expect(paintSvg(layOutEffectChart(spec))).toContain('when a step may have begun')
  })

  it('needs a point', () => {
    expect(() => layOutEffectChart({ ...spec, points: [], fitted: [] })).toThrow('no point')
  })
})

describe('layOutResiduals', () => {
  it('draws each residual on its own side of the line', () => {
    const picture = layOutResiduals({
      at: [at(0), at(1), at(2)],
      residuals: [2, -1, 0],
      width: 300,
    })
    const heights = (picture.marks.filter((m) => m.role === 'point') as CircleMark[]).map(
      (m) => m.cy,
    )
    const middle = picture.height / 2
    expect(heights[0]).toBeLessThan(middle)
    expect(heights[1]).toBeGreaterThan(middle)
    expect(heights[2]).toBe(middle)
    expect(middle - heights[0]!).toBeCloseTo(2 * (heights[1]! - middle), 0)
  })

  it('needs a point', () => {
    expect(() => layOutResiduals({ at: [], residuals: [], width: 300 })).toThrow('no point')
  })
})
