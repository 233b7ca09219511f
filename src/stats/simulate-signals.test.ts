import { describe, expect, it } from 'vitest'
import { analyze } from './analyze.ts'
import { binomialDraw, geometricDraw, poissonDraw } from './chance-draws.ts'
import { falseSignalChance } from './false-signal-chance.ts'
import { falseRunSignal } from './joint-runs.ts'
import { RULE_SETS } from './rules.ts'
import { chanceOfSignal } from './run-length.ts'
import { crossingsLimit, longestRunLimit } from './runs-distribution.ts'
import { simulateSignals } from './simulate-signals.ts'
import { createRandom } from './special/random.ts'

const rows = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))

describe('draws', () => {
  it.each([
    { name: 'Binomial(40, 0.3)', draw: binomialDraw(40, 0.3), mean: 12, variance: 8.4 },
    { name: 'Binomial(2000, 0.01)', draw: binomialDraw(2000, 0.01), mean: 20, variance: 19.8 },
    { name: 'Poisson(0.7)', draw: poissonDraw(0.7), mean: 0.7, variance: 0.7 },
    { name: 'Poisson(900)', draw: poissonDraw(900), mean: 900, variance: 900 },
    { name: 'geometric, p = 0.05', draw: geometricDraw(0.05), mean: 19, variance: 380 },
  ])('$name has its mean and variance within five standard errors', ({ draw, mean, variance }) => {
    const random = createRandom(11)
    const n = 40_000
    let sum = 0
    let squares = 0
    for (let i = 0; i < n; i++) {
      const x = draw(random)
      sum += x
      squares += (x - mean) ** 2
    }
    expect(Math.abs(sum / n - mean)).toBeLessThan(5 * Math.sqrt(variance / n))
    expect(Math.abs(squares / n / variance - 1)).toBeLessThan(0.1)
  })
})

describe('simulateSignals', () => {
  it('ER3: agrees with the exact count of longest run and crossings about the sample median', () => {
    const exact = falseRunSignal(24, longestRunLimit(24), crossingsLimit(24), 'median')
    const { chance, standardError } = simulateSignals(
      { kind: 'run', ruleSet: 'run-length-adjusted', points: 24 },
      { charts: 40_000, seed: 5 },
    )
    expect(Math.abs(chance - exact)).toBeLessThan(4 * standardError)
  })

  it('ER3: agrees with a second simulation that draws the limits by hand', () => {
    // Individuals limits from the mean moving range of the same 20 points, beyond-limits only.
    const random = createRandom(3)
    const charts = 20_000
    let signals = 0
    for (let c = 0; c < charts; c++) {
      const x = Array.from({ length: 20 }, () => random.normal())
      const mean = x.reduce((a, b) => a + b) / 20
      const ranges = x.slice(1).map((v, i) => Math.abs(v - x[i]!))
      const wide = (3 * (ranges.reduce((a, b) => a + b) / 19) * Math.sqrt(Math.PI)) / 2
      if (x.some((v) => Math.abs(v - mean) > wide)) signals++
    }
    // An S chart's spread is not drawn here: the moving-range plan with one rule is the same chart.
    const { chance, standardError } = simulateSignals(
      { kind: 'individuals', ruleSet: 'zone-tests', points: 20 },
      { charts, seed: 8 },
    )
    expect(chance).toBeGreaterThan(signals / charts)
    const alone = simulateSignals(
      { kind: 'ewma', ruleSet: 'zone-tests', points: 20, options: { lambda: 1 } },
      { charts, seed: 8 },
    )
    const error = Math.hypot(alone.standardError, standardError)
    expect(Math.abs(alone.chance - signals / charts)).toBeLessThan(4 * error)
  })

  it('ER1 ER3: comes close to the exact chain where the limits rest on very many points', () => {
    const rules = RULE_SETS['shewhart-healthcare'].pointRules
    const n = 2000
    const { chance, standardError } = simulateSignals(
      {
        kind: 'ewma',
        ruleSet: 'zone-tests',
        points: 60,
        options: { lambda: 1, target: 0, sigma: 1 },
      },
      { charts: 20_000, seed: 2 },
    )
    const exact = chanceOfSignal(RULE_SETS['zone-tests'].pointRules.slice(0, 1), 60)
    expect(Math.abs(chance - exact)).toBeLessThan(4 * standardError)
    expect(chanceOfSignal(rules, n)).toBeCloseTo(1, 6)
  })

  it('ER3: the same seed gives the same answer, another seed another, within its error', () => {
    const plan = {
      kind: 'p',
      ruleSet: 'shewhart-healthcare',
      points: 24,
      center: 0.2,
      denominators: 50,
    } as const
    const run = (seed: number) => simulateSignals(plan, { charts: 4000, seed })
    expect(run(1)).toEqual(run(1))
    expect(run(1).chance).not.toBe(run(2).chance)
    expect(Math.abs(run(1).chance - run(2).chance)).toBeLessThan(5 * run(1).standardError)
  })

  it('ER3: works for every kind of chart', () => {
    for (const kind of [
      'run',
      'individuals',
      'moving-range',
      'xbar-s',
      'xbar-r',
      'p',
      'p-prime',
      'c',
      'u',
      'u-prime',
      'g',
      't',
      'ewma',
      'cusum',
    ] as const) {
      const ruleSet = kind === 'run' ? 'run-classic' : 'shewhart-healthcare'
      const { chance } = simulateSignals(
        {
          kind,
          ruleSet,
          points: 30,
          center: kind === 'g' ? 25 : kind.startsWith('p') ? 0.3 : 8,
          denominators: 40,
        },
        { charts: 2000 },
      )
      expect(chance, kind).toBeGreaterThan(0.005)
      expect(chance, kind).toBeLessThan(0.6)
    }
  })

  it('reports progress and stops when asked', () => {
    const seen: number[] = []
    const { charts } = simulateSignals(
      { kind: 'run', ruleSet: 'run-classic', points: 12 },
      { charts: 10_000, onProgress: (done) => seen.push(done) > 0 && done < 2000 },
    )
    expect(charts).toBeGreaterThanOrEqual(2000)
    expect(charts).toBeLessThan(10_000)
    expect(seen.length).toBeGreaterThan(5)
  })

  it.each([
    { points: 0 },
    { points: 2.5 },
    { points: 10, base: 11 },
    { points: 10, center: 2, kind: 'p' as const },
    { points: 10, center: undefined, kind: 'c' as const },
    { points: 10, center: 0.5, denominators: [1, 2], kind: 'p' as const },
    { points: 10, center: 0.5, denominators: -1, kind: 'u' as const },
  ])('refuses $points points, base $base, centre $center, denominators $denominators', (wrong) => {
    expect(() =>
      simulateSignals({ kind: 'run', ruleSet: 'none', ...wrong } as Parameters<
        typeof simulateSignals
      >[0]),
    ).toThrow(expect.objectContaining({ code: 'stats.out_of_range' }))
  })
})

describe('falseSignalChance', () => {
  const wave = (n: number) => Array.from({ length: n }, (_, i) => 10 + ((i * 7) % 11) + i / 1000)
  const chart = (n: number, options: Parameters<typeof analyze>[1]) =>
    falseSignalChance(analyze({ at: rows(n), values: wave(n) }, options))

  it('ER2 ER4: is exact for longest run and crossings, and says how often in words', () => {
    const result = chart(26, { kind: 'run' })
    expect(result).toMatchObject({ method: 'exact', standardError: 0, points: 26 })
    expect(result.text).toBe(
      'With 26 points and nothing changed, this chart would show at least one signal about 2 times in 100.',
    )
  })

  it('ER4: is simulated where the limits come from the same points', () => {
    const result = chart(26, { kind: 'individuals' })
    expect(result.method).toBe('simulated')
    expect(result.known).toBeCloseTo(
      chanceOfSignal(RULE_SETS['shewhart-healthcare'].pointRules, 26),
      12,
    )
    expect(result.chance).toBeGreaterThan(0.1)
    expect(result.chance).toBeLessThan(0.25)
    expect(result.text).toContain('about 2 times in 10.')
    expect(chart(26, { kind: 'individuals' })).toEqual(result)
  })

  it('ER4: joins phases as independent charts', () => {
    const one = chart(30, { kind: 'run' }).chance
    const two = chart(60, { kind: 'run', phases: [{ at: '31' }] }).chance
    expect(two).toBeCloseTo(1 - (1 - one) ** 2, 12)
  })

  it('ER4: is zero without rules or with too few points for them', () => {
    expect(chart(26, { kind: 'individuals', ruleSet: 'none' }).chance).toBe(0)
    expect(chart(8, { kind: 'run' })).toMatchObject({ chance: 0, method: 'exact' })
  })

  it('ER4: a long chart gets the chance for known limits', () => {
    const result = chart(3000, { kind: 'individuals' })
    expect(result).toMatchObject({ method: 'exact' })
    expect(result.chance).toBe(result.known)
    expect(result.text).toContain('nearly every time')
  })

  it('tells its progress over all phases, and stops when told to', () => {
    const analysis = analyze(
      { at: rows(50), values: wave(50) },
      { kind: 'individuals', ruleSet: 'zone-tests', phases: [{ at: '26' }] },
    )
    const shares: number[] = []
    const whole = falseSignalChance(analysis, {
      budget: 30_000,
      onProgress: (share) => shares.push(share) > 0,
    })
    expect(shares[0]).toBeLessThan(0.1)
    expect(shares.at(-1)).toBe(1)
    expect(shares.every((share, i) => i === 0 || share > shares[i - 1]!)).toBe(true)
    const stopped = falseSignalChance(analysis, { budget: 31_000, onProgress: () => false })
    expect(stopped.standardError).toBeGreaterThan(whole.standardError)
    // What was stopped is not kept as if it were the answer.
    const again = falseSignalChance(analysis, { budget: 31_000 })
    expect(again.standardError).toBeLessThan(stopped.standardError)
  })
})
