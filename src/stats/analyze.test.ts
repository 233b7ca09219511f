import { describe, expect, it } from 'vitest'
import { HANDWASHING_FROM, VIENNA_MONTHS } from '../../tests/reference/vienna-maternity.ts'
import { AppError } from '../errors.ts'
import { analyze } from './analyze.ts'
import type { AnalyzeOptions, Series } from './types.ts'

const rows = (n: number, from = 1) => Array.from({ length: n }, (_, i) => String(i + from))
const single = (values: readonly (number | null)[]): Series => ({ at: rows(values.length), values })
const codeOf = (series: Series, options: AnalyzeOptions = {}) => {
  try {
    analyze(series, options)
  } catch (error) {
    if (error instanceof AppError) return error.code
    throw error
  }
  return null
}
const members = (series: Series, options: AnalyzeOptions, rule: string) =>
  analyze(series, options)
    .signals.filter((signal) => signal.rule === rule)
    .map((signal) => signal.points.map((i) => i + 1))

describe('analyze: published worked examples', () => {
  it('CH2: matches the individuals chart of NIST/SEMATECH e-Handbook 6.3.2.2 (flow rate)', () => {
    // Ten values as printed; too few for limits on a page, so they are drawn twice over to reach
    // 12 with the same mean. The figures of the ten alone are checked in individuals-limits.test.ts.
    const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    const short = analyze(single(flow), { kind: 'individuals' })
    expect(short.kind).toBe('run')
    expect(short.notes.map((note) => note.code)).toContain('too-few-for-limits')
    const long = analyze(single([...flow, ...flow.toReversed()]), { kind: 'individuals' })
    expect(long.kind).toBe('individuals')
    // The middle pair repeats 52.1, which adds a moving range of 0: 2 · 16.9 / 19.
    expect(long.phases[0]!.center).toBeCloseTo(50.81, 12)
    expect(long.points[0]!.upper).toBeCloseTo(
      50.81 + (3 * ((2 * 16.9) / 19) * Math.sqrt(Math.PI)) / 2,
      10,
    )
  })

  it('CH4 GEN2 GEN3: matches the c chart of e-Handbook 6.3.3.1 (wafers): 28 lies on the limit and is inside', () => {
    const counts = [
      16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19, 16,
      31, 13,
    ]
    const chart = analyze(single(counts), { kind: 'c' })
    expect(chart.phases[0]).toMatchObject({ n: 25, center: 16, sigma: 4, limits: 'full' })
    expect(chart.points[0]).toMatchObject({ lower: 4, upper: 28 })
    expect(members(single(counts), { kind: 'c' }, 'beyond-limits')).toEqual([[24]])
  })

  it('CH3: matches the p chart of e-Handbook 6.3.3.2 (chips): samples 15 and 23 are outside', () => {
    const numerators = [
      12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12,
      7, 13, 9, 6,
    ]
    const series = { at: rows(30), numerators, denominators: numerators.map(() => 50) }
    const chart = analyze(series)
    expect(chart.kind).toBe('p')
    expect(chart.phases[0]!.center).toBeCloseTo(0.2313, 4)
    expect(chart.points[0]!.lower).toBeCloseTo(0.0524, 4)
    expect(chart.points[0]!.upper).toBeCloseTo(0.4102, 4)
    expect(members(series, {}, 'beyond-limits')).toEqual([[15], [23]])
  })

  it('CH3: matches a p chart with varying numbers (Montgomery, purchase orders: sample 11 outside)', () => {
    const numerators = [
      12, 8, 6, 9, 10, 12, 11, 16, 10, 6, 20, 15, 9, 8, 6, 8, 10, 7, 5, 8, 5, 8, 10, 6, 9,
    ]
    const denominators = [
      100, 80, 80, 100, 110, 110, 100, 100, 90, 90, 110, 120, 120, 120, 110, 80, 80, 80, 90, 100,
      100, 100, 100, 90, 90,
    ]
    const series = { at: rows(25), numerators, denominators }
    const chart = analyze(series, { kind: 'p' })
    expect(chart.phases[0]!.center).toBeCloseTo(234 / 2450, 12)
    expect(chart.phases[0]!.sigma).toBeNull()
    expect(chart.points[0]!.upper).toBeCloseTo(0.183685713435, 10)
    expect(chart.points[1]!.lower).toBe(0)
    expect(members(series, { kind: 'p' }, 'beyond-limits')).toEqual([[11]])
  })

  it('CH5: matches a u chart (Montgomery, supply chain) when 3-sigma limits are asked for', () => {
    const numerators = [2, 3, 8, 1, 1, 4, 1, 4, 5, 1, 8, 2, 4, 3, 4, 1, 8, 3, 7, 4]
    const series = { at: rows(20), numerators, denominators: numerators.map(() => 50) }
    const chart = analyze(series, { kind: 'u', smallCounts: 'sigma' })
    expect(chart.phases[0]!.center).toBeCloseTo(0.074, 12)
    expect(chart.points[0]!.upper).toBeCloseTo(0.1894, 4)
    expect(chart.points[0]!.lower).toBe(0)
  })

  it('CH6: uses exact Poisson limits on the same data otherwise, and says so', () => {
    const numerators = [2, 3, 8, 1, 1, 4, 1, 4, 5, 1, 8, 2, 4, 3, 4, 1, 8, 3, 7, 4]
    const series = { at: rows(20), numerators, denominators: numerators.map(() => 50) }
    const chart = analyze(series, { kind: 'u', per: 1000 })
    // SciPy 1.10: poisson.ppf(0.99865, 3.7) = 11, ppf(0.00135) = 0.
    expect(chart.points[0]).toMatchObject({ lower: 0, upper: 220 })
    expect(chart.phases[0]!.limits).toBe('exact')
    expect(chart.notes.map((note) => note.code)).toContain('exact-limits')
  })
})

describe('analyze: the first maternity clinic of Vienna (Semmelweis 1861)', () => {
  const series = {
    at: VIENNA_MONTHS.map((month) => month.at),
    numerators: VIENNA_MONTHS.map((month) => month.deaths),
    denominators: VIENNA_MONTHS.map((month) => month.births),
  }
  const chart = analyze(series, {
    kind: 'p',
    better: 'down',
    phases: [{ at: HANDWASHING_FROM, reason: 'chlorine handwashing' }],
  })

  it('CH3: has the phase means of the published counts', () => {
    expect(chart.phases.map(({ from, to, n }) => ({ from, to, n }))).toEqual([
      { from: '1841-01-01', to: '1847-05-01', n: 76 },
      { from: '1847-06-01', to: '1849-03-01', n: 22 },
    ])
    expect(chart.phases[0]!.center).toBeCloseTo(2060 / 19571, 14)
    expect(chart.phases[1]!.center).toBeCloseTo(142 / 6595, 14)
    const mean = (of: typeof chart.points) => of.reduce((sum, p) => sum + p.value!, 0) / of.length
    // Means of the monthly proportions, 0.1050 and 0.0211, as widely taught from these figures.
    expect(mean(chart.points.slice(0, 76))).toBeCloseTo(0.10505, 5)
    expect(mean(chart.points.slice(76))).toBeCloseTo(0.021093, 6)
  })

  it('SH1 GEN12: finds the months outside the limits, each stretch once', () => {
    const outside = chart.signals.filter((signal) => signal.rule === 'beyond-limits')
    const months = outside.flatMap((signal) => signal.points).map((i) => chart.points[i]!.at)
    expect(months).toHaveLength(37)
    expect(new Set(months).size).toBe(37)
    expect(months.filter((at) => at >= HANDWASHING_FROM)).toEqual(['1849-03-01'])
    expect(outside[0]).toMatchObject({
      direction: 'down',
      better: true,
      text: '3 points in a row, 1841-03-01 to 1841-05-01, are below the lower limit: the better direction.',
    })
  })

  it('GEN8: carries frozen limits forward: every month after handwashing is below them', () => {
    const frozen = analyze(series, {
      kind: 'p',
      phases: [{ at: '1841-01-01', frozenThrough: '1847-05' }],
    })
    expect(frozen.phases).toHaveLength(1)
    expect(frozen.phases[0]).toMatchObject({ n: 76, frozenThrough: '1847-05' })
    expect(frozen.points[76]!.lower).toBeCloseTo(0.0490197719145, 10)
    const below = frozen.signals.filter((s) => s.rule === 'beyond-limits' && s.direction === 'down')
    expect(below.at(-1)!.points).toEqual(Array.from({ length: 24 }, (_, i) => 74 + i).slice(2))
  })

  it('RA1 RA2: has the longest run and crossings of a run chart of the months before', () => {
    const before = {
      at: series.at.slice(0, 76),
      numerators: series.numerators.slice(0, 76),
      denominators: series.denominators.slice(0, 76),
    }
    const run = analyze(before, { kind: 'run' })
    // 76 useful points, median 0.10517, 20 crossings, longest run 10; limits 9 and 30.
    expect(run.phases[0]!.center).toBeCloseTo(0.105168831929, 10)
    const longest = run.signals.filter((signal) => signal.rule === 'longest-run')
    expect(longest.map((signal) => signal.points.length)).toEqual([10])
    expect(run.signals.find((s) => s.rule === 'crossings-too-few')!.text).toContain('only 20 times')
  })
})

describe('analyze: rules of building', () => {
  const wave = (n: number) => Array.from({ length: n }, (_, i) => 10 + (i % 2) + (i % 3))

  it('CH1: draws the median of the points that count', () => {
    const chart = analyze({ ...single([1, 2, 3, 4, 100]), leftOut: [{ index: 4, reason: 'test' }] })
    expect(chart.kind).toBe('run')
    expect(chart.phases[0]).toMatchObject({ center: 2.5, n: 4, limits: 'none', sigma: null })
    expect(chart.points[4]).toMatchObject({ value: 100, leftOut: 'test', center: 2.5 })
  })

  it('GEN9: draws no limits below 12 points and says why', () => {
    const chart = analyze(single(wave(11)), { kind: 'individuals' })
    expect(chart).toMatchObject({
      kind: 'run',
      requestedKind: 'individuals',
      ruleSet: 'run-length-adjusted',
    })
    expect(chart.points.every((p) => p.upper === null && p.lower === null)).toBe(true)
    expect(chart.notes[0]!.text).toContain('fewer than 12 points; there are 11')
    expect(analyze(single(wave(12)), { kind: 'individuals' }).kind).toBe('individuals')
  })

  it('GEN9: lets one short phase fall back and keeps the others', () => {
    const chart = analyze(single(wave(20)), { kind: 'individuals', phases: [{ at: '15' }] })
    expect(chart.kind).toBe('individuals')
    expect(chart.phases.map((phase) => phase.limits)).toEqual(['trial', 'none'])
    expect(chart.notes.map((note) => note.code)).toEqual([
      'trial-limits',
      'too-few-for-limits',
      'too-few-for-rules',
    ])
  })

  it('GEN10: calls limits from 12 to 19 points trial limits', () => {
    const limits = (n: number) =>
      analyze(single(wave(n)), { kind: 'individuals' }).phases[0]!.limits
    expect([12, 19, 20].map(limits)).toEqual(['trial', 'trial', 'full'])
  })

  it('GEN11: looks for no run chart rules below 10 useful points', () => {
    const nine = [1, 1, 1, 1, 1, 1, 9, 9, 9]
    expect(analyze(single([...nine, 5]), { kind: 'run', ruleSet: 'run-classic' }).signals).toEqual(
      [],
    )
    const twelve = [1, 1, 1, 1, 1, 1, 9, 9, 9, 9, 9, 9]
    expect(members(single(twelve), { kind: 'run', ruleSet: 'run-classic' }, 'shift')).toEqual([
      [1, 2, 3, 4, 5, 6],
      [7, 8, 9, 10, 11, 12],
    ])
  })

  it('GEN4: a zero denominator is a gap, and rules pass over it', () => {
    const denominators = [50, 50, 50, 50, 0, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50]
    const numerators = [9, 9, 9, 9, 0, 9, 9, 9, 9, 30, 29, 31, 30, 28, 30, 32]
    const series = { at: rows(16), numerators, denominators }
    const chart = analyze(series, { kind: 'p' })
    expect(chart.points[4]).toMatchObject({ value: null, denominator: 0, lower: null, upper: null })
    expect(chart.notes.map((note) => note.code)).toContain('zero-denominator')
    expect(members(series, { kind: 'p' }, 'shift')).toEqual([[1, 2, 3, 4, 6, 7, 8, 9]])
  })

  it('GEN5: a point left out does not enter centre, limits or rules', () => {
    const values = [...wave(20), 500, 11, 12]
    const kept = analyze(single(values.filter((v) => v !== 500)), { kind: 'individuals' })
    const chart = analyze(
      { ...single(values), leftOut: [{ index: 20, reason: 'scale broken' }] },
      { kind: 'individuals' },
    )
    expect(chart.phases[0]!.center).toBeCloseTo(kept.phases[0]!.center!, 12)
    expect(chart.signals.filter((s) => s.points.includes(20))).toEqual([])
    expect(chart.points[20]!.leftOut).toBe('scale broken')
  })

  it('GEN6: takes no moving range across a gap or a phase border', () => {
    const steps = [0, 1, 0, 1, 0, 1, 0, null, 100, 101, 100, 101, 100, 101]
    const chart = analyze(single(steps), { kind: 'individuals' })
    expect(chart.phases[0]!.sigma).toBeCloseTo(Math.sqrt(Math.PI) / 2, 12)
  })

  it('GEN7: no run reaches across a phase border', () => {
    const values = [
      ...Array(6).fill(1),
      ...Array(6).fill(9),
      ...Array(6).fill(9),
      ...Array(6).fill(1),
    ]
    const options: AnalyzeOptions = { kind: 'run', ruleSet: 'run-classic', phases: [{ at: '13' }] }
    expect(members(single(values), options, 'shift').map((m) => m.length)).toEqual([6, 6, 6, 6])
  })

  it('CH7: chooses the chart from the columns and says why', () => {
    const kindOf = (series: Series, options: AnalyzeOptions = {}) => analyze(series, options)
    expect(kindOf(single([1, 2])).notes[0]!.code).toBe('kind-chosen')
    const counts = { at: rows(2), numerators: [3, 4] }
    expect(kindOf(counts).requestedKind).toBe('auto')
    const rates = {
      at: rows(20),
      numerators: rows(20).map(() => 7),
      denominators: rows(20).map(() => 3.5),
    }
    expect(kindOf(rates).kind).toBe('u')
    expect(kindOf({ ...rates, denominators: rows(20).map(() => 20) }).kind).toBe('p')
    expect(kindOf({ ...rates, denominators: rows(20).map(() => 20) }, { per: 1000 }).kind).toBe('u')
  })
})

describe('analyze: bad input', () => {
  const p = (numerators: (number | null)[], denominators: (number | null)[]): Series => ({
    at: rows(numerators.length),
    numerators,
    denominators,
  })
  it.each<[string, Series, AnalyzeOptions, string]>([
    ['no points', single([]), {}, 'stats.empty'],
    ['NaN', single([1, Number.NaN]), {}, 'stats.not_finite'],
    ['infinity', single([1, Infinity]), { kind: 'individuals' }, 'stats.not_finite'],
    ['a negative count', single([1, -1]), { kind: 'c' }, 'stats.negative_count'],
    ['half a count', single([1, 0.5]), { kind: 'c' }, 'stats.not_whole'],
    ['more than there are', p([5], [4]), { kind: 'p' }, 'stats.numerator_over_denominator'],
    ['a negative denominator', p([1], [-4]), { kind: 'u' }, 'stats.negative_denominator'],
    ['a column too short', { at: ['1', '2'], values: [1] }, {}, 'stats.length_mismatch'],
    ['no denominators', { at: ['1'], numerators: [1] }, { kind: 'p' }, 'stats.missing_column'],
    [
      'an earlier label',
      { at: ['2026-02-01', '2026-01-01'], values: [1, 2] },
      {},
      'stats.unsorted',
    ],
    ['a label twice', { at: ['3', '3.0'], values: [1, 2] }, {}, 'stats.duplicate_label'],
    ['a kind unheard of', single([1]), { kind: 'pie' as 'run' }, 'stats.unknown_kind'],
    ['rules unheard of', single([1]), { ruleSet: 'mine' as 'none' }, 'stats.unknown_rule_set'],
    [
      'limits on a run chart',
      single([1]),
      { kind: 'run', ruleSet: 'zone-tests' },
      'stats.rule_set_needs_limits',
    ],
    [
      'a point that is not there',
      { ...single([1]), leftOut: [{ index: 1, reason: '' }] },
      {},
      'stats.bad_index',
    ],
    [
      'phases out of order',
      single([1, 2, 3]),
      { phases: [{ at: '3' }, { at: '2' }] },
      'stats.phases_unsorted',
    ],
    [
      'a freeze before its phase',
      single([1, 2, 3]),
      { phases: [{ at: '2', frozenThrough: '1' }] },
      'stats.bad_phase',
    ],
    ['per nothing', single([1]), { per: 0 }, 'stats.bad_option'],
  ])('refuses %s', (_what, series, options, code) => {
    expect(codeOf(series, options)).toBe(code)
  })

  it('GEN13: names the position of the first wrong point', () => {
    expect(() => analyze(single([1, 2, Number.NaN]))).toThrow('point 3 of 3')
    expect(() => analyze({ at: ['9', '10', '2'], values: [1, 2, 3] })).toThrow('Point 3 (2)')
  })

  it('GEN14: a series that never changes has no signals, whatever its rules', () => {
    for (const ruleSet of ['shewhart-healthcare', 'eight-tests', 'zone-tests'] as const) {
      const zero = { at: rows(30), numerators: Array(30).fill(0), denominators: Array(30).fill(40) }
      expect(analyze(zero, { kind: 'p', ruleSet }).signals).toEqual([])
      expect(
        analyze(single(Array(30).fill(0.1)), { kind: 'individuals', ruleSet }).signals,
      ).toEqual([])
    }
  })

  it('answers one point, gaps only and a constant series without NaN', () => {
    const json = (series: Series, options: AnalyzeOptions) =>
      JSON.stringify(analyze(series, options))
    for (const kind of ['run', 'individuals', 'c'] as const) {
      for (const values of [[7], [null, null], Array(30).fill(7)]) {
        expect(json(single(values), { kind })).not.toMatch(/NaN|Infinity/)
      }
    }
    const flat = analyze(single(Array(30).fill(0.1)), { kind: 'individuals' })
    expect(flat.phases[0]).toMatchObject({ center: 0.1, sigma: 0 })
  })
})
