import { describe, expect, it } from 'vitest'
import { boundedRuns, falseRunSignal, jointRuns } from './joint-runs.ts'
import { type PointRule, RULE_SETS } from './rules.ts'
import { averageRunLength, chanceOfSignal, runLengthDistribution } from './run-length.ts'
import { crossingsLimit, longestRunLimit } from './runs-distribution.ts'
import { zoneChain } from './zone-chain.ts'

const zone = RULE_SETS['zone-tests'].pointRules
const pick = (...slugs: string[]) => zone.filter((rule) => slugs.includes(rule.slug))
const all = ['beyond-limits', 'two-of-three', 'four-of-five', 'shift']
const side = (length: number): PointRule => ({ slug: 'shift', shape: 'side', length })

describe('average run length (Champ & Woodall 1987, Technometrics 29:393, Table 1)', () => {
  it.each([
    { rules: all.slice(0, 1), shift: 0, printed: 370.4, exact: 370.3983473449564 },
    { rules: all.slice(0, 1), shift: 1, printed: 43.89, exact: 43.894681718539545 },
    { rules: all.slice(0, 1), shift: 2, printed: 6.3, exact: 6.302962987143026 },
    { rules: all.slice(0, 2), shift: 0, printed: 225.44, exact: 225.4384067416151 },
    { rules: all.slice(0, 2), shift: 1, printed: 20.01, exact: 20.00503645086918 },
    {
      rules: ['beyond-limits', 'four-of-five'],
      shift: 0,
      printed: 166.05,
      exact: 166.05451713054813,
    },
    {
      rules: ['beyond-limits', 'four-of-five'],
      shift: 0.4,
      printed: 63.88,
      exact: 63.88456214742807,
    },
    { rules: ['beyond-limits', 'shift'], shift: 0, printed: 152.73, exact: 152.73006533949936 },
    { rules: ['beyond-limits', 'shift'], shift: 0.4, printed: 59.76, exact: 59.75968197449498 },
    { rules: all.slice(0, 3), shift: 0, printed: 132.89, exact: 132.89281139162873 },
    {
      rules: ['beyond-limits', 'two-of-three', 'shift'],
      shift: 0,
      printed: 122.05,
      exact: 122.05077201243859,
    },
    {
      rules: ['beyond-limits', 'four-of-five', 'shift'],
      shift: 0,
      printed: 105.78,
      exact: 105.78306504468436,
    },
    { rules: all, shift: 0, printed: 91.75, exact: 91.7507731283489 },
    { rules: all, shift: 0.4, printed: 36.61, exact: 36.60599644467306 },
    { rules: all, shift: 1, printed: 9.22, exact: 9.221859963515955 },
    { rules: all, shift: 2, printed: 3.13, exact: 3.127601372109511 },
  ])('is $printed for $rules at a shift of $shift', ({ rules, shift, printed, exact }) => {
    const arl = averageRunLength(pick(...rules), shift)
    expect(Math.abs(arl - printed)).toBeLessThan(0.0051)
    expect(arl / exact).toBeCloseTo(1, 10)
    expect(averageRunLength(pick(...rules), -shift) / exact).toBeCloseTo(1, 10)
  })

  it('is 2^k − 1 for k in a row on one side, the waiting time of coin tossing', () => {
    for (const k of [2, 6, 8, 9]) expect(averageRunLength([side(k)])).toBeCloseTo(2 ** k - 1, 8)
  })

  it('follows the geometric law for the limits alone', () => {
    const p = 0.00269979606326
    const chances = runLengthDistribution(pick('beyond-limits'), 50)
    chances.forEach((chance, i) => {
      expect(chance).toBeCloseTo((1 - p) ** i * p, 12)
    })
  })

  it('merges the states of the four zone tests to fewer than the 216 of the paper', () => {
    expect(zoneChain(zone).states).toBeLessThanOrEqual(216)
  })
})

describe('chance of a false signal, known limits', () => {
  it.each([
    { rules: all.slice(0, 1), n: 24, p: 0.06282264032571294 },
    { rules: all.slice(0, 2), n: 60, p: 0.23271077609341073 },
    { rules: ['beyond-limits', 'four-of-five'], n: 24, p: 0.12641043795061102 },
    { rules: ['beyond-limits', 'shift'], n: 60, p: 0.31556640275686676 },
    { rules: all, n: 24, p: 0.21059416071929027 },
    { rules: all, n: 60, p: 0.4753513000693258 },
  ])(
    'is $p for $rules and $n points (an independent Markov chain in Python)',
    ({ rules, n, p }) => {
      expect(chanceOfSignal(pick(...rules), n)).toBeCloseTo(p, 12)
    },
  )

  it('counts trends as every order of the points does', () => {
    // All orders of eight values: how many hold six in a row rising or falling.
    const rule: PointRule = { slug: 'trend', shape: 'trend', length: 6, ties: 'skip' }
    let bad = 0
    let total = 0
    const permute = (rest: number[], taken: number[]) => {
      if (rest.length === 0) {
        total++
        let up = 1
        let down = 1
        let hit = false
        for (let i = 1; i < taken.length; i++) {
          if (taken[i]! > taken[i - 1]!) [up, down] = [up + 1, 1]
          else [up, down] = [1, down + 1]
          hit ||= up >= 6 || down >= 6
        }
        if (hit) bad++
        return
      }
      rest.forEach((x, i) => {
        permute(rest.toSpliced(i, 1), [...taken, x])
      })
    }
    permute([0, 1, 2, 3, 4, 5, 6, 7], [])
    expect(chanceOfSignal([rule], 8)).toBeCloseTo(bad / total, 12)
    expect(chanceOfSignal([rule], 6)).toBeCloseTo(2 / 720, 13)
  })

  it('counts alternations as the zigzag numbers do (Nelson 1984: 0.0046 for 14)', () => {
    const rule: PointRule = { slug: 'alternating', shape: 'alternate', length: 14 }
    // Twice the Euler zigzag number of 14, over 14!.
    expect(chanceOfSignal([rule], 14)).toBeCloseTo((2 * 199360981) / 87178291200, 12)
  })

  it('is the chance of a window for the tests of Nelson at their own length', () => {
    const one = (slug: string, n: number) =>
      chanceOfSignal(
        RULE_SETS['eight-tests'].pointRules.filter((r) => r.slug === slug),
        n,
      )
    expect(one('shift', 9)).toBeCloseTo(2 / 512, 12)
    expect(one('near-center', 15)).toBeCloseTo(0.682689492137086 ** 15, 12)
    expect(one('none-near-center', 8)).toBeCloseTo(0.000102772195266 - 8.03e-7, 8)
    expect(one('four-of-five', 5)).toBeCloseTo(0.00553184220005, 7)
    expect(one('two-of-three', 3)).toBeCloseTo(0.00305831201496, 7)
  })

  it('joins zones and order in one chain: about 1 in 5 for the health care rules and 24 points', () => {
    // A seeded simulation of a million charts elsewhere agrees: simulate-signals.test.ts.
    const rules = RULE_SETS['shewhart-healthcare'].pointRules
    const withTrend = chanceOfSignal(rules, 24)
    const without = chanceOfSignal(
      rules.filter((r) => r.slug !== 'trend'),
      24,
    )
    const trend = chanceOfSignal(
      rules.filter((r) => r.slug === 'trend'),
      24,
    )
    expect(withTrend).toBeGreaterThan(Math.max(without, trend))
    expect(withTrend).toBeLessThan(without + trend)
  })

  it('grows with n and with the shift, and answers impossible input with an error', () => {
    const rules = pick(...all)
    let last = 0
    for (const n of [0, 1, 2, 5, 10, 100, 1000]) {
      const p = chanceOfSignal(rules, n)
      expect(p).toBeGreaterThanOrEqual(last)
      expect(p).toBeLessThanOrEqual(1)
      last = p
    }
    expect(chanceOfSignal(rules, 10, 1.5)).toBeGreaterThan(chanceOfSignal(rules, 10, 1))
    const code = expect.objectContaining({ code: 'stats.out_of_range' })
    expect(() => averageRunLength([])).toThrow(code)
    expect(() => averageRunLength(rules, Number.NaN)).toThrow(code)
    expect(() => chanceOfSignal(rules, -1)).toThrow(code)
    expect(() => chanceOfSignal(rules, 2.5)).toThrow(code)
  })
})

describe('longest run and crossings together (Anhøj & Olesen 2014; counted exactly)', () => {
  it.each([
    { n: 10, both: 0.044921875, longest: 0.0390625, crossings: 0.01953125 },
    { n: 16, both: 0.046722412109375, longest: 0.039031982421875, crossings: 0.017578125 },
    {
      n: 24,
      both: 0.06623983383178711,
      longest: 0.033069610595703125,
      crossings: 0.04656982421875,
    },
    {
      n: 40,
      both: 0.0788421365978138,
      longest: 0.06331748362572398,
      crossings: 0.026625957048963755,
    },
  ])('signal falsely with chance $both for $n points about a known centre', (row) => {
    const [longest, crossings] = [longestRunLimit(row.n), crossingsLimit(row.n)]
    expect(falseRunSignal(row.n, longest, crossings, 'known')).toBeCloseTo(row.both, 13)
    expect(falseRunSignal(row.n, longest, 0, 'known')).toBeCloseTo(row.longest, 13)
    expect(falseRunSignal(row.n, row.n, crossings, 'known')).toBeCloseTo(row.crossings, 13)
  })

  it('agree with listing every sequence, known centre and sample median', () => {
    for (const center of ['known', 'median'] as const) {
      const n = 10
      const table = Array.from({ length: n + 1 }, () => new Array<number>(n).fill(0))
      let total = 0
      for (let mask = 0; mask < 1 << n; mask++) {
        const bits = Array.from({ length: n }, (_, i) => (mask >> i) & 1)
        if (center === 'median' && bits.reduce((a, b) => a + b, 0) !== n / 2) continue
        total++
        let run = 1
        let longest = 1
        let crossings = 0
        for (let i = 1; i < n; i++) {
          if (bits[i] === bits[i - 1]) longest = Math.max(longest, ++run)
          else {
            run = 1
            crossings++
          }
        }
        table[longest]![crossings]!++
      }
      jointRuns(n, center).forEach((row, longest) => {
        row.forEach((p, crossings) => {
          expect(p).toBeCloseTo(table[longest]![crossings]! / total, 13)
        })
      })
    }
  })

  it('with the sample median a run of 8 of 20 has chance 0.0074, not 0.0544', () => {
    expect(falseRunSignal(20, 7, 0, 'median')).toBeCloseTo(0.00740436034554, 12)
    expect(falseRunSignal(20, 7, 0, 'known')).toBeCloseTo(0.0543823242188, 12)
  })

  it('sum to 1, odd numbers too, and refuse what cannot be counted', () => {
    for (const n of [1, 2, 7, 101, 1500]) {
      for (const center of ['known', 'median'] as const) {
        expect(boundedRuns(n, n, center).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9)
      }
    }
    expect(() => boundedRuns(0, 1, 'known')).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
    expect(() => boundedRuns(5000, 1, 'known')).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})
