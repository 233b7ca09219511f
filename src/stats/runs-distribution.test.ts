import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { phaseSignals } from './phase-signals.ts'
import { RULE_SETS } from './rules.ts'
import {
  crossingsLimit,
  longestRunLimit,
  runsDistribution,
  runsLimits,
} from './runs-distribution.ts'
import type { RuleSetId } from './types.ts'

const cumulative = (p: readonly number[], r: number) =>
  p.slice(0, r + 1).reduce((sum, x) => sum + x, 0)

describe('runsDistribution', () => {
  // Cumulative probabilities of Swed & Eisenhart 1943, Table I, to full precision (recomputed from
  // their formula in exact fractions).
  it.each([
    { above: 5, below: 5, runs: 2, p: 2 / 252 },
    { above: 5, below: 5, runs: 5, p: 0.357142857142857 },
    { above: 10, below: 10, runs: 6, p: 0.0185217259521 },
    { above: 12, below: 12, runs: 7, p: 0.00949501434089 },
    { above: 15, below: 15, runs: 10, p: 0.0198784895478 },
    { above: 6, below: 8, runs: 4, p: 0.027972027972 },
    { above: 10, below: 15, runs: 8, p: 0.0275492847441 },
    { above: 12, below: 18, runs: 9, p: 0.0106266704704 },
  ])('RC3: gives P(at most $runs runs) for $above and $below', ({ above, below, runs, p }) => {
    expect(cumulative(runsDistribution(above, below), runs)).toBeCloseTo(p, 11)
  })

  it('RC3: agrees with counting every order', () => {
    for (const [above, below] of [
      [1, 1],
      [1, 4],
      [3, 4],
      [5, 3],
      [6, 6],
    ] as const) {
      const n = above + below
      const tally = new Array<number>(2 * Math.min(above, below) + 2).fill(0)
      let orders = 0
      for (let mask = 0; mask < 1 << n; mask++) {
        const bits = Array.from({ length: n }, (_, i) => (mask >> i) & 1)
        if (bits.reduce((a, b) => a + b, 0) !== above) continue
        orders++
        tally[1 + bits.filter((b, i) => i > 0 && b !== bits[i - 1]).length]!++
      }
      const p = runsDistribution(above, below)
      tally.forEach((count, r) => {
        expect(p[r], `${above} and ${below}, ${r} runs`).toBeCloseTo(count / orders, 13)
      })
    }
  })

  it('has the published mean 2ab/(a+b) + 1, is symmetric in its arguments, and holds for 100,000 points', () => {
    const mean = (a: number, b: number) =>
      runsDistribution(a, b).reduce((sum, p, r) => sum + p * r, 0)
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 80 }), fc.integer({ min: 1, max: 80 }), (a, b) => {
        expect(mean(a, b)).toBeCloseTo((2 * a * b) / (a + b) + 1, 9)
        expect(mean(a, b)).toBeCloseTo(mean(b, a), 9)
      }),
    )
    expect(mean(50_000, 50_000)).toBeCloseTo(50_001, 4)
  })

  it('refuses an empty side', () => {
    expect(() => runsDistribution(0, 5)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})

describe('runsLimits', () => {
  // Swed & Eisenhart 1943, Table II: runs in these tails are critical at 2.5 % a side. Where the
  // table reprinted by Perla, Provost & Murray 2011 differs by one (n = 11, 20, 22, 25), the exact
  // distribution decides.
  it.each([
    { n: 10, above: 5, below: 5, fewest: 3, most: 9 },
    { n: 11, above: 5, below: 6, fewest: 4, most: 9 },
    { n: 14, above: 7, below: 7, fewest: 4, most: 12 },
    { n: 16, above: 8, below: 8, fewest: 5, most: 13 },
    { n: 20, above: 10, below: 10, fewest: 7, most: 15 },
    { n: 22, above: 11, below: 11, fewest: 8, most: 16 },
    { n: 25, above: 12, below: 13, fewest: 9, most: 18 },
    { n: 28, above: 14, below: 14, fewest: 10, most: 20 },
    { n: 40, above: 20, below: 20, fewest: 15, most: 27 },
    { n: 50, above: 25, below: 25, fewest: 19, most: 33 },
    { n: 59, above: 29, below: 30, fewest: 23, most: 38 },
  ])('RC3 RC4: expects $fewest to $most runs of $n points', ({ above, below, fewest, most }) => {
    expect(runsLimits(above, below)).toEqual({ fewest, most })
  })

  it('RC3 RC4: leaves at most 2.5 % outside on each side, and would leave more by one step', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 60 }), (a, b) => {
        const p = runsDistribution(a, b)
        const { fewest, most } = runsLimits(a, b)
        expect(cumulative(p, fewest - 1)).toBeLessThanOrEqual(0.025 + 1e-12)
        expect(cumulative(p, fewest)).toBeGreaterThan(0.025)
        expect(1 - cumulative(p, most)).toBeLessThanOrEqual(0.025 + 1e-12)
        expect(1 - cumulative(p, most - 1)).toBeGreaterThan(0.025)
      }),
    )
  })
})

describe('length-adjusted limits (Anhøj & Olesen 2014, PLoS ONE 9:e113825)', () => {
  it.each([
    { n: 10, longest: 6, crossings: 2 },
    { n: 11, longest: 6, crossings: 2 },
    { n: 12, longest: 7, crossings: 3 },
    { n: 16, longest: 7, crossings: 4 },
    { n: 20, longest: 7, crossings: 6 },
    { n: 24, longest: 8, crossings: 8 },
    { n: 30, longest: 8, crossings: 10 },
    { n: 40, longest: 8, crossings: 14 },
    { n: 46, longest: 9, crossings: 17 },
    { n: 60, longest: 9, crossings: 23 },
    { n: 76, longest: 9, crossings: 30 },
    { n: 92, longest: 10, crossings: 38 },
    { n: 100, longest: 10, crossings: 41 },
  ])(
    'RA1 RA2: for $n points a run of $longest and $crossings crossings are still expected',
    (row) => {
      expect(longestRunLimit(row.n)).toBe(row.longest)
      expect(crossingsLimit(row.n)).toBe(row.crossings)
    },
  )

  it('RA2: is the 5 % quantile of Binomial(n - 1, 1/2), also for a million points', () => {
    for (let n = 2; n <= 60; n++) {
      let mass = 0.5 ** (n - 1)
      let sum = mass
      let k = 0
      while (sum < 0.05) {
        mass *= (n - 1 - k) / (k + 1)
        sum += mass
        k++
      }
      expect(crossingsLimit(n), String(n)).toBe(k)
    }
    // Normal quantile: (n − 1)/2 − 1.6449 √(n − 1)/2.
    expect(
      Math.abs(crossingsLimit(1_000_000) - (999_999 / 2 - (1.644854 * Math.sqrt(999_999)) / 2)),
    ).toBeLessThan(1.5)
  })
})

describe('run chart rules on a phase', () => {
  const found = (sides: string, set: RuleSetId) => {
    const zones = Uint8Array.from(sides, (c) => (c === '+' ? 1 : c === '-' ? 5 : 0))
    const values = Float64Array.from(sides, (c) => (c === '+' ? 1 : c === '-' ? -1 : 0))
    return phaseSignals(values, zones, RULE_SETS[set]).signals.map((s) => s.rule)
  }
  it('RC1: six on one side, points on the median passed over', () => {
    expect(found('+++0+++-+-+--', 'run-classic')).toContain('shift')
    expect(found('+++0++-+-+--', 'run-classic')).not.toContain('shift')
  })
  it('RC2: five rising, repeats passed over', () => {
    const set = RULE_SETS['run-classic']
    const trend = (z: number[]) =>
      phaseSignals(
        Float64Array.from(z),
        Uint8Array.from(z, (x) => (x > 0 ? 1 : 5)),
        set,
      )
        .signals.filter((s) => s.rule === 'trend')
        .map((s) => [s.direction, ...s.members])
    const rest = [-3, 3, -3, 3, -3, 3, -3]
    expect(trend([-2, -1, -1, 1, 2, 2, 4, ...rest])).toEqual([['up', 0, 1, 3, 4, 6]])
    expect(trend([-2, -1, 1, 2, ...rest])).toEqual([])
  })
  it('RC3 RC4: too few and too many runs', () => {
    expect(found('++++-----+----+++++-', 'run-classic')).toContain('runs-too-few')
    expect(found('+-+-+-+-+-+-+-+-+-+-', 'run-classic')).toEqual(['runs-too-many'])
    expect(found('++--+-+--+++--+-+-+-', 'run-classic')).toEqual([])
  })
  it('RC3: all on one side is one run and no question of order', () => {
    expect(found('++++++++++++', 'run-classic')).toEqual(['shift'])
  })
  it('RA1 RA2: a long run, and few crossings', () => {
    expect(found('++++++++-+--+-+--+-+-+-+', 'run-length-adjusted')).toEqual([])
    expect(found('+++++++++-+--+-+--+-+-+-', 'run-length-adjusted')).toEqual(['longest-run'])
    expect(found('+++++----+++++-----+++++', 'run-length-adjusted')).toEqual(['crossings-too-few'])
  })
  it('GEN11: nine useful points are too few', () => {
    expect(found('++++++0---', 'run-classic')).toEqual([])
  })
})
