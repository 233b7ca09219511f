import { describe, expect, it } from 'vitest'
import {
  describeHalfNormal,
  type HalfNormalSpec,
  halfNormalTable,
  layOutHalfNormal,
} from './half-normal-chart.ts'
import {
  describeInteraction,
  type InteractionSpec,
  interactionTable,
  layOutInteraction,
} from './interaction-chart.ts'
import type { CircleMark, Mark, Picture } from './marks.ts'
import { paintSvg } from './paint-svg.ts'

/** Effects of the filtration rate and Lenth’s margins: Montgomery (2013), Design and Analysis of Experiments, example 6.2. */
const FILTRATION: readonly (readonly [string, number])[] = [
  ['Temperature', 21.625],
  ['Pressure', 3.125],
  ['Temperature with Pressure', 0.125],
  ['Formaldehyde', 9.875],
  ['Temperature with Formaldehyde', -18.125],
  ['Pressure with Formaldehyde', 2.375],
  ['Temperature, Pressure and Formaldehyde together', 1.875],
  ['Stirring', 14.625],
  ['Temperature with Stirring', 16.625],
  ['Pressure with Stirring', -0.375],
  ['Temperature, Pressure and Stirring together', 4.125],
  ['Formaldehyde with Stirring', -1.125],
  ['Temperature, Formaldehyde and Stirring together', -1.625],
  ['Pressure, Formaldehyde and Stirring together', -2.625],
  ['All four together', 1.375],
]
const spec: HalfNormalSpec = {
  effects: FILTRATION.map(([name, estimate]) => ({
    name,
    estimate,
    standing:
      Math.abs(estimate) > 13.699 ? 'clear' : Math.abs(estimate) > 6.748 ? 'possible' : 'none',
  })),
  standardError: 2.625,
  alone: 6.748,
  together: 13.699,
  format: 'number',
  axisTitle: 'size of the effect, gal/h',
}
const pair: InteractionSpec = {
  first: { name: 'Temperature', low: 'cold', high: 'hot' },
  second: { name: 'Formaldehyde', low: 'little', high: 'much' },
  // Means of four printed responses each, same example.
  means: { lowLow: 45.25, highLow: 85, lowHigh: 73.25, highHigh: 76.75 },
  range: [43, 104],
  format: 'number',
}
const circles = (marks: readonly Mark[], role: string) =>
  marks.filter((m): m is CircleMark => m.shape === 'circle' && m.role === role)

function expectInside(picture: Picture) {
  for (const mark of picture.marks) {
    const numbers =
      mark.shape === 'circle'
        ? [mark.cx - mark.r, mark.cy + mark.r]
        : mark.shape === 'text'
          ? [mark.x, mark.y]
          : [...mark.d.matchAll(/[MLHV](-?\d+(?:\.\d+)?)(?:,(-?\d+(?:\.\d+)?))?/g)].flatMap((m) =>
              [m[1], m[2]].flatMap((n) => (n === undefined ? [] : [Number(n)])),
            )
    for (const n of numbers) {
      expect(n).toBeGreaterThanOrEqual(0)
      expect(n).toBeLessThanOrEqual(Math.max(picture.width, picture.height))
    }
  }
}

describe('the half-normal plot', () => {
  it.each([280, 720, 1280])('keeps every mark within the picture at %i px', (width) => {
    expectInside(layOutHalfNormal(spec, width))
  })

  it('has one point an effect, rising to the right, with rings on those that stand out', () => {
    const chart = layOutHalfNormal(spec, 720)
    const points = circles(chart.marks, 'point')
    expect(points).toHaveLength(15)
    points.slice(1).forEach((p, i) => {
      expect(p.cx).toBeGreaterThanOrEqual(points[i]!.cx)
      expect(p.cy).toBeLessThan(points[i]!.cy)
    })
    expect(circles(chart.marks, 'ring')).toHaveLength(4)
    expect(chart.points.map((p) => p.x)).toEqual(points.map((p) => p.cx))
  })

  it('names those that stand out or may, and no other', () => {
    const names = layOutHalfNormal(spec, 1280).marks.flatMap((m) =>
      m.shape === 'text' && FILTRATION.some(([name]) => name === m.text) ? [m.text] : [],
    )
    expect(names.sort()).toEqual([
      'Formaldehyde',
      'Stirring',
      'Temperature',
      'Temperature with Formaldehyde',
      'Temperature with Stirring',
    ])
  })

  it('puts chance on a line from the corner, with the standard error as its slope', () => {
    const chart = layOutHalfNormal(spec, 720)
    const line = chart.marks.find((m) => m.role === 'center')
    const [x0, y0, x1, y1] = [...(line as { d: string }).d.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) =>
      Number(n),
    )
    expect(x0).toBeCloseTo(chart.plot.x, 0)
    expect(y0).toBeCloseTo(chart.plot.y + chart.plot.height, 0)
    // The largest effect, 21.625, has the score 2.128: Φ⁻¹(1/2 + 14.5/30).
    const top = chart.points.at(-1)!
    const perUnit = (top.x - x0!) / 21.625
    const perScore = (y0! - top.y!) / 2.128
    expect((x1! - x0!) / perUnit / ((y0! - y1!) / perScore)).toBeCloseTo(2.625, 1)
  })

  it('leaves out a margin that lies far beyond every effect', () => {
    const far = { ...spec, together: 90 }
    const limits = (s: HalfNormalSpec) =>
      layOutHalfNormal(s, 720).marks.filter((m) => m.role === 'limit').length
    expect(limits(spec)).toBe(2)
    expect(limits(far)).toBe(1)
    expect(limits({ ...spec, alone: null, together: null, standardError: null })).toBe(0)
  })

  it('says the same in words and as a table', () => {
    const words = describeHalfNormal(spec)
    expect(words.text).toBe(
      'Half-normal plot of 15 effects by size. Margin of one effect: 6.75; of all together: 13.70. Standing out: Temperature; Temperature with Formaldehyde; Temperature with Stirring; Stirring.',
    )
    expect(words.points.at(-1)).toBe(
      'Temperature: size 21.63, 15 of 15 by size, stands out even among so many.',
    )
    const table = halfNormalTable(spec)
    expect(table.rows[0]!.cells).toEqual([
      'Temperature',
      '21.63',
      '2.13',
      'stands out even among so many',
    ])
    expect(table.rows[1]!.cells[1]).toBe('−18.13')
    const none = {
      ...spec,
      alone: null,
      together: null,
      effects: spec.effects.map((e) => ({ ...e, standing: 'unjudged' as const })),
    }
    expect(describeHalfNormal(none).text).toContain(
      'No margin can be put on them. None stands out.',
    )
  })

  it('refuses to draw nothing', () => {
    expect(() => layOutHalfNormal({ ...spec, effects: [] }, 720)).toThrow(
      expect.objectContaining({ code: 'chart.no_points' }),
    )
  })
})

describe('the interaction plot', () => {
  it.each([240, 360, 720])('keeps every mark within the picture at %i px', (width) => {
    expectInside(layOutInteraction(pair, width))
  })

  it('draws one line each way of the second change, apart by shape', () => {
    const chart = layOutInteraction(pair, 360)
    // One more of each is in the key.
    expect(circles(chart.marks, 'point')).toHaveLength(3)
    expect(circles(chart.marks, 'point-left-out')).toHaveLength(3)
    const [, lowLow, highLow] = circles(chart.marks, 'point')
    expect(lowLow!.cy).toBeGreaterThan(highLow!.cy)
    expect(lowLow!.cx).toBeLessThan(highLow!.cx)
  })

  it('shares its scale with others of the same range', () => {
    const other = { ...pair, means: { lowLow: 60, highLow: 61, lowHigh: 62, highHigh: 63 } }
    const [a, b] = [layOutInteraction(pair, 360), layOutInteraction(other, 360)]
    const grid = (chart: Picture) => chart.marks.find((m) => m.role === 'grid')
    expect(grid(a)).toEqual(grid(b))
  })

  it('has targets that do not overlap, each over its own point', () => {
    const chart = layOutInteraction(pair, 360)
    expect(chart.points).toHaveLength(4)
    for (const { x, y, hit } of chart.points) {
      expect(x).toBeGreaterThan(hit.x)
      expect(x).toBeLessThan(hit.x + hit.width)
      expect(y!).toBeGreaterThanOrEqual(hit.y - 0.1)
      expect(y!).toBeLessThanOrEqual(hit.y + hit.height + 0.1)
    }
  })

  it('says the same in words and as a table', () => {
    const words = describeInteraction(pair)
    expect(words.text).toContain(
      'With Formaldehyde “little” the mean goes from 45.25 (“cold”) to 85.00 (“hot”).',
    )
    expect(words.points[3]).toBe('Temperature “hot”, Formaldehyde “much”: mean 76.75.')
    expect(interactionTable(pair).rows.map((r) => r.cells[2])).toEqual([
      '45.25',
      '73.25',
      '85.00',
      '76.75',
    ])
  })

  it('is painted by the same painter as every other picture', () => {
    const svg = paintSvg(layOutInteraction(pair, 360))
    expect(svg).toContain('<svg')
  })
})
