import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anySpec, SAMPLE_TESTS, sampleSpec } from '../../tests/support/chart-samples.ts'
import { analyze } from '../stats/analyze.ts'
import { overlap, textBox } from './boxes.ts'
import type { CircleMark, Mark, MarkRole, TextMark } from './marks.ts'
import { ROLE_PAINT } from './paint-roles.ts'
import type { TimeChart, TimeChartSpec } from './spec.ts'
import { layOutTimeChart } from './time-chart.ts'
import { pointSentences } from './words.ts'

const ofRole = (chart: { marks: readonly Mark[] }, role: MarkRole) =>
  chart.marks.filter((mark) => mark.role === role)
const circles = (chart: TimeChart, role: MarkRole) => ofRole(chart, role) as CircleMark[]
const texts = (chart: TimeChart, role: MarkRole) =>
  (ofRole(chart, role) as TextMark[]).map((mark) => mark.text)

/** Every number of a path, as points; only absolute M, L, H, V, Z and Q, and relative v, occur. */
function pathPoints(d: string): { x: number; y: number }[] {
  const points: { x: number; y: number }[] = []
  let x = 0
  let y = 0
  for (const [, command, rest] of d.matchAll(/([MLHVQZv])([^MLHVQZv]*)/g)) {
    const numbers = [...rest!.matchAll(/-?\d+(?:\.\d+)?(?:e-?\d+)?/g)].map(([n]) => Number(n))
    const pairs = command === 'H' || command === 'V' || command === 'v' ? 1 : numbers.length / 2
    for (let k = 0; k < Math.floor(pairs); k++) {
      if (command === 'H') x = numbers[0]!
      else if (command === 'V') y = numbers[0]!
      else if (command === 'v') y += numbers[0]!
      else {
        x = numbers[2 * k]!
        y = numbers[2 * k + 1]!
      }
      points.push({ x, y })
    }
  }
  return points
}

function extentOf(mark: Mark): { x0: number; x1: number; y0: number; y1: number } {
  if (mark.shape === 'circle') {
    const { cx, cy, r } = mark
    return { x0: cx - r, x1: cx + r, y0: cy - r, y1: cy + r }
  }
  if (mark.shape === 'text') {
    const bold = ROLE_PAINT[mark.role].bold
    const box = textBox(mark.text, mark.x, mark.y, mark.size, mark.anchor, bold)
    return { x0: box.x, x1: box.x + box.width, y0: box.y, y1: box.y + box.height }
  }
  const points = pathPoints(mark.d)
  const xs = points.map((p) => p.x)
  const ys = points.map((p) => p.y)
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) }
}

describe('layOutTimeChart', () => {
  const chart = layOutTimeChart(sampleSpec())
  const { analysis } = sampleSpec()

  it('puts each value at its height on the axis', () => {
    const [low, high] = chart.valueDomain
    expect([low, high]).toEqual([0, 1])
    const { y, height } = chart.plot
    const drawn = circles(chart, 'point')
    analysis.points.forEach((point, i) => {
      const expected = y + height - ((point.value! - low) / (high - low)) * height
      expect(drawn[i]!.cy).toBeCloseTo(expected, 0)
    })
  })

  it('puts equal weeks at equal distances', () => {
    const xs = chart.points.map((p) => p.x)
    const gaps = xs.slice(1).map((x, i) => x - xs[i]!)
    expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThan(0.25)
  })

  it('steps the centre line at the phase border and says value and dates of both', () => {
    const lines = ofRole(chart, 'center') as { d: string }[]
    expect(lines).toHaveLength(2)
    const [first, second] = lines.map((line) => pathPoints(line.d))
    expect(first!.at(-1)!.x).toBe(second![0]!.x)
    expect(second![0]!.y).toBeLessThan(first![0]!.y)
    expect(texts(chart, 'phase-text')).toEqual([
      '47\u00a0% · 2 Feb to 18 May 2026, frozen',
      '71\u00a0% · 25 May to 27 Jul 2026',
    ])
  })

  it('catches frozen limits with one barb on each, half way after the last point they came from', () => {
    const barbs = ofRole(chart, 'catch') as { d: string }[]
    expect(barbs).toHaveLength(2)
    const tip = pathPoints(barbs[0]!.d)[1]!
    expect(tip.x).toBeCloseTo((chart.points[12]!.x + chart.points[13]!.x) / 2, 0)
  })

  it('draws limits that step with the denominators', () => {
    const upper = (ofRole(chart, 'limit') as { d: string }[])[1]!
    const heights = new Set(pathPoints(upper.d).map((p) => p.y))
    expect(heights.size).toBeGreaterThan(3)
  })

  it('rings each point of a signal once and gives each signal one letter', () => {
    const inSignals = analysis.points.filter((p) => p.signals.length > 0)
    expect(inSignals.length).toBeGreaterThan(0)
    expect(circles(chart, 'ring')).toHaveLength(inSignals.length)
    expect(texts(chart, 'letter')).toEqual(analysis.signals.map((_, i) => 'abcdef'[i]))
  })

  it('draws a bracket for each prediction, with a dot where the outcome is known', () => {
    expect(ofRole(chart, 'bracket')).toHaveLength(3)
    expect(circles(chart, 'outcome')).toHaveLength(2)
    const [, outside] = circles(chart, 'outcome')
    const bracket = pathPoints((ofRole(chart, 'bracket')[1] as { d: string }).d)
    expect(outside!.cy).toBeLessThan(Math.min(...bracket.map((p) => p.y)))
  })

  it('tells the stages of a test apart by shape', () => {
    const roles = ['notch', 'tooth-outline', 'tooth-full', 'tooth-dotted'] as const
    for (const role of roles) expect(ofRole(chart, role).length, role).toBe(1)
    expect(texts(chart, 'tooth-text')).toEqual([
      '1 abandoned',
      '2 adapted',
      '3 adopted',
      '4 running',
    ])
    expect(chart.teeth.map((tooth) => tooth.id)).toEqual(SAMPLE_TESTS.map((test) => test.id))
  })

  it('points at the goal from the right edge, without a line across the data', () => {
    const [goal] = ofRole(chart, 'goal') as { d: string }[]
    const { plot } = chart
    for (const { x } of pathPoints(goal!.d)) expect(x).toBeGreaterThanOrEqual(plot.x + plot.width)
    expect(texts(chart, 'goal-text')).toEqual(['goal 80\u00a0%'])
  })

  it('breaks the line at a gap and keeps a target there', () => {
    const gappy = analyze({ at: ['1', '2', '3', '4'], values: [3, 4, null, 5] }, { kind: 'run' })
    const drawn = layOutTimeChart({ title: 'Gap', analysis: gappy, format: 'number', width: 600 })
    const [line] = ofRole(drawn, 'line') as { d: string }[]
    expect(line!.d.match(/M/g)).toHaveLength(2)
    expect(drawn.points[2]).toMatchObject({
      index: 2,
      y: null,
    })
    expect(circles(drawn, 'point')).toHaveLength(3)
  })

  it('draws a point that is left out hollow', () => {
    const left = analyze(
      { at: ['1', '2', '3'], values: [3, 40, 5], leftOut: [{ index: 1, reason: 'wrong unit' }] },
      { kind: 'run' },
    )
    const drawn = layOutTimeChart({ title: 'Out', analysis: left, format: 'number', width: 600 })
    expect(circles(drawn, 'point-left-out')).toHaveLength(1)
    expect(pointSentences({ analysis: left, format: 'number' })[1]).toContain(
      'left out: wrong unit',
    )
  })

  it('writes durations and their axis as minutes and seconds', () => {
    const times = analyze({ at: ['1', '2', '3'], values: [96, 71, 44] }, { kind: 'run' })
    const drawn = layOutTimeChart({
      title: 'Tray',
      analysis: times,
      format: 'duration',
      width: 600,
    })
    expect(texts(drawn, 'tick-text')).toEqual([
      '0:30',
      '0:45',
      '1:00',
      '1:15',
      '1:30',
      '1:45',
      '1',
      '2',
      '3',
    ])
  })

  it('lists a test whose dates are of another kind than the axis, but does not draw it', () => {
    const rows = analyze({ at: ['1', '2'], values: [1, 2] }, { kind: 'run' })
    const drawn = layOutTimeChart({
      title: 'Rows',
      analysis: rows,
      format: 'number',
      width: 600,
      tests: [SAMPLE_TESTS[2]!],
    })
    expect(drawn.teeth).toEqual([])
  })

  it('refuses to draw nothing, and sizes nobody can read', () => {
    const none = { ...sampleSpec(), analysis: { ...analysis, points: [] } }
    expect(() => layOutTimeChart(none)).toThrow('There is no point to draw.')
    expect(() => layOutTimeChart(sampleSpec(20))).toThrow('20 pixels wide')
  })
})

describe('any chart', () => {
  const check = (property: (chart: TimeChart, spec: TimeChartSpec) => void) =>
    fc.assert(
      fc.property(anySpec, (spec) => property(layOutTimeChart(spec), spec)),
      { numRuns: 150, seed: 20260302 },
    )

  it('keeps every mark inside the picture', () => {
    check((chart) => {
      for (const mark of chart.marks) {
        const { x0, x1, y0, y1 } = extentOf(mark)
        const what = JSON.stringify(mark)
        expect(x0, what).toBeGreaterThanOrEqual(-1)
        expect(y0, what).toBeGreaterThanOrEqual(-1)
        expect(x1, what).toBeLessThanOrEqual(chart.width + 1)
        expect(y1, what).toBeLessThanOrEqual(chart.height + 1)
      }
    })
  })

  it('has finite numbers only', () => {
    check((chart) => {
      expect(JSON.stringify(chart.marks)).not.toMatch(/NaN|Infinity|null/)
    })
  })

  it('goes from left to right', () => {
    check((chart) => {
      const xs = chart.points.map((p) => p.x)
      for (let i = 1; i < xs.length; i++) expect(xs[i]).toBeGreaterThanOrEqual(xs[i - 1]!)
    })
  })

  it('holds data, limits, predictions and goal on its axis', () => {
    check((chart, { analysis, goal, tests = [] }) => {
      const [low, high] = chart.valueDomain
      const all = [
        ...analysis.points.flatMap((p) => [p.value, p.center, p.lower, p.upper]),
        ...tests.flatMap((t) =>
          t.bracket && t.from !== null ? [t.bracket.low, t.bracket.high] : [],
        ),
        goal,
      ]
      for (const value of all) {
        if (value === null || value === undefined) continue
        expect(value).toBeGreaterThanOrEqual(low)
        expect(value).toBeLessThanOrEqual(high)
      }
    })
  })

  it('has a ring a signal point, a dot a value, a target a point', () => {
    check((chart, { analysis }) => {
      const { points } = analysis
      const ringed = points.filter((p) => p.signals.length > 0 && p.value !== null)
      expect(ofRole(chart, 'ring')).toHaveLength(ringed.length)
      expect(ofRole(chart, 'point')).toHaveLength(points.filter((p) => p.value !== null).length)
      expect(chart.points).toHaveLength(points.length)
    })
  })

  it('lets no two labels of a kind lie on each other', () => {
    const kinds: readonly MarkRole[] = [
      'phase-text',
      'tooth-text',
      'tick-text',
      'letter',
      'bracket-text',
    ]
    check((chart) => {
      for (const role of kinds) {
        const boxes = (ofRole(chart, role) as TextMark[]).map((m) =>
          textBox(m.text, m.x, m.y, m.size, m.anchor, ROLE_PAINT[role].bold),
        )
        // A crowd of letters may touch where signals end on one point of a crowded chart.
        if (role === 'letter' && boxes.length > 6) continue
        for (const [i, box] of boxes.entries())
          for (const other of boxes.slice(i + 1)) {
            const inner = {
              ...box,
              x: box.x + 0.5,
              y: box.y + 1,
              width: box.width - 1,
              height: box.height - 2,
            }
            expect(overlap(inner, other), `${role} ${JSON.stringify([box, other])}`).toBe(false)
          }
      }
    })
  })
})

it('says two dates at least under eight years on a narrow screen', () => {
  const at = Array.from({ length: 98 }, (_, i) =>
    new Date(Date.UTC(1841, i, 1)).toISOString().slice(0, 10),
  )
  const analysis = analyze({ at, values: at.map((_, i) => (i * 7) % 11) }, { kind: 'run' })
  const { marks, height } = layOutTimeChart({ title: 'x', analysis, format: 'number', width: 328 })
  const years = marks.flatMap((m) =>
    m.shape === 'text' && m.y > height - 60 && /^18\d\d$/.test(m.text) ? [m.text] : [],
  )
  expect(years.length).toBeGreaterThanOrEqual(2)
})

it('draws a value between two gaps, and no line through a gap', () => {
  const at = ['1', '2', '3', '4', '5']
  const analysis = analyze({ at, values: [1, null, 2, null, 3] }, { kind: 'run' })
  const { marks } = layOutTimeChart({ title: 'x', analysis, format: 'number', width: 400 })
  const line = marks.find((m) => m.shape === 'path' && m.role === 'line')
  expect(line).toMatchObject({ d: expect.stringMatching(/^(M[\d.]+,[\d.]+Z){3}$/) })
})
