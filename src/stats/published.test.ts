import { describe, expect, it } from 'vitest'
import * as stats from './index.ts'

const window = (need: number, of: number, beyond: 1 | 2 | 3) =>
  ({ slug: `${need} of ${of}`, shape: 'window', need, of, beyond }) as const
const run = (length: number) => ({ slug: `run of ${length}`, shape: 'side', length }) as const
const beyond3 = window(1, 1, 3)

describe('Champ & Woodall 1987, Technometrics 29:393, table 1', () => {
  it.each([
    [
      'beyond 3, 2 of 3, 4 of 5',
      [beyond3, window(2, 3, 2), window(4, 5, 1)],
      [132.89, 97.86, 52.93],
    ],
    ['beyond 3, 2 of 3, run of 8', [beyond3, window(2, 3, 2), run(8)], [122.05, 89.14, 48.71]],
    ['beyond 3, run of 8', [beyond3, run(8)], [152.73, 110.52, 59.76]],
    ['all four', [beyond3, window(2, 3, 2), window(4, 5, 1), run(8)], [91.75, 66.8, 36.61]],
  ] as const)('ER1: %s at shifts of 0, 0.2 and 0.4 sigma', (_name, rules, printed) => {
    for (const [i, arl] of printed.entries()) {
      expect(Math.abs(stats.averageRunLength(rules, i / 5) - arl)).toBeLessThan(0.0051)
    }
  })
})

describe('Lucas & Saccucci 1990, Technometrics 32:1, designs for 500 points', () => {
  it.each([
    [0.2, 2.962, [499.735122167, 150.21640292, 41.7643957625, 18.1496234463]],
    [0.25, 2.998, [499.8360035337, 170.2958501885]],
  ] as const)('ER5: λ = %s, L = %s at shifts of 0, 0.25, 0.5 …', (lambda, L, lengths) => {
    for (const [i, arl] of lengths.entries()) {
      expect(stats.ewmaRunLength(lambda, L, i / 4) / arl).toBeCloseTo(1, 8)
    }
  })

  it('ER5: Hawkins 1993, CUSUM with k = 0.5 and h = 4.77 for 370 points', () => {
    expect(stats.cusumRunLength(0.5, 4.77)).toBeCloseTo(368.56139447, 5)
    expect(stats.cusumRunLength(0.5, 4.77, 1)).toBeCloseTo(9.91704246413, 7)
  })

  it('ER5: plain limits are the EWMA with λ = 1: 1/p for 2 and 3.5 sigma', () => {
    expect(stats.ewmaRunLength(1, 2)).toBeCloseTo(21.977894508, 6)
    expect(stats.ewmaRunLength(1, 3.5, 1)).toBeCloseTo(160.951208796, 5)
  })
})

describe('Nelson 1984, J Qual Technol 16:237: chance of each test in a window of its length', () => {
  it.each([
    ['beyond-limits', 1, 0.00269979606326],
    ['shift', 9, 0.00390625],
    ['trend', 6, 2 / 720],
    ['alternating', 14, 0.00457363819033],
    ['two-of-three', 3, 0.00305831201496],
    ['four-of-five', 5, 0.00553184220005],
    // All eight outside 1 sigma, less those with all on one side: (2q)^8 − 2q^8, q = 0.158655.
    ['none-near-center', 8, 0.00010196928749],
  ] as const)('ER1: %s in %d points is %d', (slug, points, chance) => {
    const rule = stats.RULE_SETS['eight-tests'].pointRules.find((r) => r.slug === slug)!
    expect(stats.chanceOfSignal([rule], points)).toBeCloseTo(chance, 11)
  })
})

describe('Swed & Eisenhart 1943, Ann Math Stat 14:66, table II', () => {
  // Critical numbers at 2.5 % a side (as reprinted, from memory, and recomputed): fewer, more.
  it.each([
    [5, 5, 3, 9],
    [10, 10, 7, 15],
    [11, 11, 8, 16],
    [12, 12, 8, 18],
  ])('RC3 RC4: %d above and %d below: %d to %d runs are usual', (above, below, fewest, most) => {
    expect(stats.runsLimits(above, below)).toEqual({ fewest, most })
    const p = stats.runsDistribution(above, below)
    const tail = (from: number, to: number) => p.slice(from, to).reduce((s, x) => s + x, 0)
    expect(tail(0, fewest)).toBeLessThanOrEqual(0.025)
    expect(tail(0, fewest + 1)).toBeGreaterThan(0.025)
    expect(tail(most + 1, p.length)).toBeLessThanOrEqual(0.025)
    expect(tail(most, p.length)).toBeGreaterThan(0.025)
  })

  it('RC3: the lunch counter, E O EE O EEE O EEE O E O E: 11 runs, one-sided 0.0577', () => {
    const zones = Uint8Array.from('EOEEOEEEOEEEOEOE', (seat) => (seat === 'E' ? 1 : 5))
    const { runs, above, below } = stats.runCounts(zones)
    expect([runs.length, above, below]).toEqual([11, 11, 5])
    const tail = stats.runsDistribution(11, 5).slice(11)
    expect(tail.reduce((s, x) => s + x, 0)).toBeCloseTo(0.0576923076923, 12)
  })
})

describe('Wentzel-Larsen & Anhøj 2019, PLoS ONE 14:e0223233: 16 points, in units of 2^−15', () => {
  it.each([
    [2, [0, 0, 0, 0, 0, 6, 15, 21, 18, 15, 12, 9, 6, 3, 0, 0]],
    [4, [0, 0, 0, 65, 300, 370, 280, 175, 100, 50, 20, 5, 0, 0, 0, 0]],
    [5, [0, 0, 21, 525, 960, 741, 420, 210, 90, 30, 6, 0, 0, 0, 0, 0]],
  ])('ER2: %d crossings, by longest run 1 to 16', (crossings, counts) => {
    const table = stats.jointRuns(16, 'known')
    counts.forEach((count, i) => {
      expect(table[i + 1]![crossings]! * 2 ** 15).toBeCloseTo(count, 8)
    })
  })
})

describe('charts of textbooks', () => {
  const at = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))

  it('CH4: printed circuit boards, Montgomery (data from memory, total as printed 516)', () => {
    const values = [
      21, 24, 16, 12, 15, 5, 28, 20, 31, 25, 20, 24, 16, 19, 10, 17, 13, 22, 18, 39, 30, 24, 16, 19,
      17, 15,
    ]
    const chart = stats.analyze({ at: at(26), values }, { kind: 'c', ruleSet: 'zone-tests' })
    const { center, upper, lower } = chart.points[0]!
    expect(center).toBeCloseTo(516 / 26, 10)
    expect(upper).toBeCloseTo(33.2108605251, 9)
    expect(lower).toBeCloseTo(6.48144716717, 9)
    const beyond = chart.signals.filter((s) => s.rule === 'beyond-limits').flatMap((s) => s.points)
    expect(beyond.map((i) => i + 1)).toEqual([6, 20])
  })

  it('CH9: e-Handbook 6.3.2.1, its formulas on six subgroups of five (made-up values)', () => {
    const groups = [
      [5.02, 5.01, 4.94, 4.99, 4.96],
      [4.99, 5.03, 5.0, 4.99, 4.92],
      [5.03, 5.03, 5.01, 4.98, 4.92],
      [5.0, 4.91, 4.98, 5.01, 5.03],
      [4.99, 5.03, 5.05, 4.96, 4.92],
      [5.02, 5.01, 5.04, 4.99, 5.06],
    ]
    const columns = stats.subgroupColumns(groups)
    const worked = (spread: 's' | 'r') =>
      stats.subgroupFit(columns, new Uint8Array(6).fill(1), 0, 6, spread)
    const { A2, A3, d2, c4 } = stats.chartConstants(5)
    expect(worked('r').center).toBeCloseTo(4.994, 12)
    expect(4.994 + A2 * d2 * worked('r').sigma).toBeCloseTo(5.05360466452, 9)
    expect(4.994 - A3 * c4 * worked('s').sigma).toBeCloseTo(4.93553983541, 9)
  })

  it('CH9: A and c5 stand in the printed tables too (ISO 7870-2, from memory)', () => {
    expect(stats.chartConstants(5).A).toBeCloseTo(1.3416407865, 10)
    expect(stats.chartConstants(5).c5).toBeCloseTo(0.341214106065, 10)
    expect(stats.chartConstants(25).c5).toBeCloseTo(0.143568544642, 10)
  })
})
