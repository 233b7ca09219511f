import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { analyze } from './analyze.ts'
import { columnSignals, individualsColumn } from './column-chart.ts'
import { RULE_SETS } from './rules.ts'
import { createRandom } from './special/random.ts'

const rows = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))

describe('individualsColumn', () => {
  it.each(['shewhart-healthcare', 'zone-tests', 'eight-tests'] as const)(
    'CH2 GEN3: finds the limits and signals of analyze (%s)',
    (id) => {
      // Steps of a quarter make ties, points on lines and exact repeats common.
      const value = fc.integer({ min: -8, max: 8 }).map((k) => k / 4)
      const offset = fc.constantFrom(0, 0.1, 1e6, -1e9)
      fc.assert(
        fc.property(fc.array(value, { minLength: 12, maxLength: 80 }), offset, (xs, shift) => {
          const values = Float64Array.from(xs, (x) => x + shift)
          const chart = individualsColumn(values, RULE_SETS[id])
          const full = analyze(
            { at: rows(xs.length), values: [...values] },
            { kind: 'individuals', ruleSet: id },
          )
          expect(chart.center).toBe(full.phases[0]!.center)
          expect(chart.sigma).toBe(full.phases[0]!.sigma)
          const found = columnSignals(values, chart, RULE_SETS[id])
          const plain = (signals: readonly { rule: string; members: readonly number[] }[]) =>
            signals.map((s) => `${s.rule} ${s.members.join(' ')}`).toSorted()
          expect(plain(found)).toEqual(
            plain(full.signals.map((s) => ({ rule: s.rule, members: s.points }))),
          )
        }),
        { numRuns: 200 },
      )
    },
  )

  it('reads part of a column as if it stood alone', () => {
    const random = createRandom(4)
    const all = Float64Array.from({ length: 300 }, () => random.normal())
    const part = individualsColumn(all, RULE_SETS['zone-tests'], 100, 220)
    const alone = individualsColumn(all.slice(100, 220), RULE_SETS['zone-tests'])
    expect(part.sigma).toBe(alone.sigma)
    expect(Array.from(part.hits.subarray(100, 220))).toEqual(Array.from(alone.hits))
    const lifted = columnSignals(all, part, RULE_SETS['zone-tests'], 100, 220)
    expect(lifted.map((s) => s.members[0])).toEqual(
      columnSignals(all.slice(100, 220), alone, RULE_SETS['zone-tests']).map(
        (s) => s.members[0]! + 100,
      ),
    )
  })

  it('GEN3: a constant column, one point, and a column with a large constant part', () => {
    const flat = individualsColumn(new Float64Array(50).fill(0.1), RULE_SETS['eight-tests'])
    expect(flat).toMatchObject({ center: 0.1, sigma: 0, seen: 0 })
    expect(individualsColumn(Float64Array.of(3), RULE_SETS['eight-tests'])).toMatchObject({
      center: 3,
      seen: 0,
    })
    const far = individualsColumn(
      Float64Array.from({ length: 40 }, (_, i) => 1e12 + (i % 2)),
      RULE_SETS['zone-tests'],
    )
    expect(far.sigma).toBeCloseTo(Math.sqrt(Math.PI) / 2, 10)
  })

  it.each([
    { values: [1, Number.NaN, 3], code: 'stats.not_finite', position: 'point 2 of 3' },
    {
      values: [1, 2, Number.POSITIVE_INFINITY],
      code: 'stats.not_finite',
      position: 'point 3 of 3',
    },
    { values: [], code: 'stats.empty', position: 'no points' },
    { values: [-1.7e308, 1.7e308, 1.7e308], code: 'stats.out_of_range', position: 'too large' },
  ])('refuses $values', ({ values, code, position }) => {
    const call = () => individualsColumn(Float64Array.from(values), RULE_SETS['zone-tests'])
    expect(call).toThrow(expect.objectContaining({ code }))
    expect(call).toThrow(position)
  })

  it('takes ten million points, and analyze says that it does not', () => {
    const n = 10_000_000
    const values = new Float64Array(n)
    for (let i = 0, x = 1; i < n; i++) {
      x = (x * 48271) % 2147483647
      values[i] = x / 2147483647
    }
    const chart = individualsColumn(values, RULE_SETS['shewhart-healthcare'])
    expect(chart.center).toBeCloseTo(0.5, 3)
    // Mean distance of two uniform values: 1/3.
    expect(chart.sigma).toBeCloseTo(Math.sqrt(Math.PI) / 6, 3)
    expect(chart.seen).toBeGreaterThan(0)
    const long = new Array<string>(n)
    expect(() => analyze({ at: long, values: [] }, { kind: 'individuals' })).toThrow(
      expect.objectContaining({ code: 'stats.too_many_points' }),
    )
  })
})
