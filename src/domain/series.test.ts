import { describe, expect, it } from 'vitest'
import { measure, observation, phase } from '../../tests/support/records.ts'
import { analysisOf, chartKindOf, compareMoments, ruleSetOf, seriesOf } from './series.ts'

const value = (at: string, v: number | null, own = {}) => observation({ at, value: v, ...own })

describe('seriesOf', () => {
  it('sorts by date and adds up rows of one date', () => {
    const rows = [
      observation({ at: '2026-03-09', numerator: 3, denominator: 5 }),
      observation({ at: '2026-03-02', numerator: 1, denominator: 4 }),
      observation({ at: '2026-03-09', numerator: 2, denominator: 5 }),
    ]
    expect(seriesOf(measure(), rows).series).toEqual({
      at: ['2026-03-02', '2026-03-09'],
      numerators: [1, 5],
      denominators: [4, 10],
      leftOut: [],
    })
  })

  it('keeps rows of one date together as a subgroup where the measure wants one', () => {
    const rows = [value('2026-03-02', 3), value('2026-03-02', 5), value('2026-03-09', null)]
    expect(seriesOf(measure({ dataKind: 'subgrouped' }), rows).series.subgroups).toEqual([
      [3, 5],
      null,
    ])
  })

  it('averages single values of one moment and adds up counts', () => {
    const rows = [value('2026-03-02', 3), value('2026-03-02', 6)]
    expect(seriesOf(measure({ dataKind: 'single' }), rows).series.values).toEqual([4.5])
    expect(seriesOf(measure({ dataKind: 'counts' }), rows).series.values).toEqual([9])
  })

  it('does not take part of a total for the total', () => {
    const rows = [
      observation({ at: '2026-03-02', numerator: 3, denominator: 5 }),
      observation({ at: '2026-03-02', numerator: null, denominator: 5 }),
    ]
    expect(seriesOf(measure(), rows).series.numerators).toEqual([null])
  })

  it('leaves a point out when all its rows are, and counts only the others when some are', () => {
    const out = { leftOutReason: 'Printer down' }
    const rows = [value('2026-03-02', 3, out), value('2026-03-09', 5), value('2026-03-09', 9, out)]
    expect(seriesOf(measure({ dataKind: 'single' }), rows).series).toEqual({
      at: ['2026-03-02', '2026-03-09'],
      values: [3, 5],
      leftOut: [{ index: 0, reason: 'Printer down' }],
    })
  })

  it('orders row numbers as numbers', () => {
    const rows = ['10', '9', '1'].map((at) => value(at, 1))
    expect(seriesOf(measure({ dataKind: 'single' }), rows).series.at).toEqual(['1', '9', '10'])
    expect(compareMoments('2026-03-02', '2026-03-10')).toBeLessThan(0)
  })
})

describe('the chart of a measure', () => {
  // METHODS 3, its table of data kinds.
  it.each([
    ['single', 'individuals'],
    ['subgrouped', 'xbar-s'],
    ['classified', 'p'],
    ['counts', 'c'],
    ['rates', 'u'],
    ['cases-between', 'g'],
    ['time-between', 't'],
  ] as const)('of %s data is %s', (dataKind, kind) => {
    expect(chartKindOf(measure({ dataKind }))).toBe(kind)
  })

  it('is the chosen one where one was chosen, with the rule set that suits it', () => {
    const run = measure({ chartKind: 'run' })
    expect([chartKindOf(run), ruleSetOf(run)]).toEqual(['run', 'run-length-adjusted'])
    expect(ruleSetOf(measure())).toBe('shewhart-healthcare')
    expect(ruleSetOf(measure({ ruleSet: 'zone-tests' }))).toBe('zone-tests')
  })
})

describe('analysisOf', () => {
  const days = Array.from({ length: 28 }, (_, i) => `2026-03-${String(i + 1).padStart(2, '0')}`)
  const observations = days.map((at, i) => value(at, i < 14 ? 10 + (i % 3) : 20 + (i % 3)))
  const single = measure({ dataKind: 'single', better: 'up' })

  it('is nothing without observations', () => {
    expect(analysisOf({ measure: single, observations: [], phases: [] })).toBeNull()
  })

  it('gives each phase its own centre', () => {
    const phases = [phase({ startsAt: '2026-03-15', reason: 'New form' })]
    const analysis = analysisOf({ measure: single, observations, phases })!
    expect(analysis.phases.map((p) => [p.from, p.to, p.n])).toEqual([
      ['2026-03-01', '2026-03-14', 14],
      ['2026-03-15', '2026-03-28', 14],
    ])
    expect(analysis.phases[1]!.center! - analysis.phases[0]!.center!).toBeCloseTo(10, 0)
    expect(analysis.phases[1]!.reason).toBe('New form')
  })

  it('carries the limits of a frozen baseline forward and signals what leaves them', () => {
    const phases = [phase({ frozenThrough: '2026-03-14' })]
    const analysis = analysisOf({ measure: single, observations, phases })!
    expect(analysis.phases).toHaveLength(1)
    expect(analysis.points.at(-1)!.center).toBe(analysis.points[0]!.center)
    expect(analysis.signals.some((s) => s.direction === 'up' && s.better === true)).toBe(true)
  })
})
