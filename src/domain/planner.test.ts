import { describe, expect, it } from 'vitest'
import { measure, observation, phase } from '../../tests/support/records.ts'
import { simulateSignals } from '../stats/simulate-signals.ts'
import { type PlanProgress, signalPlan, wholePlan } from './planner.ts'
import {
  baselineOf,
  canPlan,
  guessedBaseline,
  type PlannerBaseline,
  pointsWithin,
  rhythmOf,
} from './planner-baseline.ts'

const steady = (own: Partial<PlannerBaseline> = {}): PlannerBaseline => ({
  origin: 'frozen',
  level: 0,
  model: { kind: 'normal', sigma: 1 },
  ruleSet: 'zone-tests',
  n: 24,
  values: [],
  numerator: 0,
  denominator: 0,
  lower: null,
  upper: null,
  rhythm: { word: 'week', days: 7 },
  ...own,
})

describe('the planner', () => {
  it('has the run length of Champ & Woodall 1987: 9.22 points for the zone tests and 1 sigma', () => {
    const { chances } = signalPlan(steady(), 1, 1, null)!
    expect(chances.reduce((sum, p) => sum + (1 - p), 1)).toBeCloseTo(9.22, 2)
  })

  it('has the chance of a false signal of Champ & Woodall 1987: one in 91.75 points', () => {
    const { falseChances } = signalPlan(steady(), 1, 1, null)!
    // Far out each further point signals with the same chance, so the rest of the mean is a geometric tail.
    const left = falseChances.map((p) => 1 - p)
    const ratio = left[119]! / left[118]!
    const mean = left.reduce((a, b) => a + b, 1) + (left[119]! * ratio) / (1 - ratio)
    expect(mean).toBeCloseTo(91.75, 1)
  })

  it('needs fewer points for a larger change, and as many up as down', () => {
    const at = (after: number) => signalPlan(steady(), after, 1, null)!.for80!
    expect(at(2)).toBeLessThan(at(1))
    expect(at(-1.5)).toBe(at(1.5))
  })

  it('halves the time where points come twice as often', () => {
    const plan = signalPlan(steady(), 1, 1, null)!
    expect(plan.doubled.how).toBe('more points')
    expect(plan.doubled.for80).toBe(Math.ceil(plan.for80! / 2))
  })

  it('finds the denominator that is enough, and no smaller one by a tenth', () => {
    const model = { kind: 'p', denominators: [40] } as const
    const plan = signalPlan(steady({ level: 0.62, model }), 0.74, 1, 4)!
    const withN = (n: number) =>
      signalPlan(steady({ level: 0.62, model: { kind: 'p', denominators: [n] } }), 0.74, 1, 4)!
        .chances[3]!
    expect(plan.within).toBe(4)
    expect(plan.usualDenominator).toBe(40)
    expect(withN(plan.denominatorFor80!)).toBeGreaterThanOrEqual(0.8)
    expect(withN(Math.round(plan.denominatorFor80! * 0.85))).toBeLessThan(0.8)
    expect(plan.doubled.how).toBe('larger points')
    expect(plan.doubled.for80!).toBeLessThan(plan.for80!)
  })

  it('gives areas back in the measure’s own unit', () => {
    const model = { kind: 'u', denominators: [0.7] } as const
    const plan = signalPlan(steady({ level: 6, model }), 2, 1000, 3)!
    expect(plan.usualDenominator).toBeCloseTo(700, 9)
    expect(plan.denominatorFor80! / 7).toBeCloseTo(Math.round(plan.denominatorFor80! / 7), 6)
    const enough = plan.denominatorFor80! / 1000
    const again = signalPlan(
      steady({ level: 6, model: { kind: 'u', denominators: [enough] } }),
      2,
      1000,
      3,
    )!
    expect(again.chances[2]).toBeGreaterThanOrEqual(0.8)
  })

  it('has no larger points to offer for plain counts', () => {
    const plan = signalPlan(steady({ level: 9, model: { kind: 'u', denominators: [1] } }), 4, 1, 4)!
    expect(plan).toMatchObject({ denominatorFor80: null, timesAsMuch: null })
    expect(plan.doubled.how).toBe('more points')
  })

  it.each([
    ['the baseline itself', {}, 0],
    ['a share above 1', { level: 0.5, model: { kind: 'p', denominators: [9] } as const }, 1.2],
    ['a rate below zero', { level: 2, model: { kind: 'u', denominators: [1] } as const }, -1],
    ['a gap of nothing', { level: 20, model: { kind: 't' } as const }, 0],
  ])('plans nothing for %s', (_what, own, after) => {
    expect(signalPlan(steady(own), after, 1, null)).toBeNull()
  })

  it.each(['run-classic', 'run-length-adjusted', 'shewhart-healthcare', 'eight-tests'] as const)(
    'never loses chance as points come in, with %s',
    (ruleSet) => {
      for (const model of [
        { kind: 'normal', sigma: 1 },
        { kind: 'p', denominators: [30, 50] },
        { kind: 't' },
      ] as const) {
        const { chances } = signalPlan(steady({ level: 0.5, ruleSet, model }), 0.8, 1, null)!
        // The length-adjusted limit grows with the points, so its chance may step back.
        if (ruleSet !== 'run-length-adjusted')
          for (let t = 1; t < chances.length; t++)
            expect(chances[t]! + 1e-12).toBeGreaterThanOrEqual(chances[t - 1]!)
        expect(Math.max(...chances)).toBeLessThanOrEqual(1)
      }
    },
  )

  it('never signals without rules', () => {
    const plan = signalPlan(steady({ ruleSet: 'none' }), 3, 1, null)!
    expect(plan).toMatchObject({ median: null, for80: null, for90: null })
  })
})

describe('the whole answer of the planner', () => {
  /** Sides of a phase without a signal of its own. */
  const sides = [1, -1, 1, 1, -1, -1, 1, -1, 1, -1, -1, 1, -1, 1, 1, -1, 1, -1, -1, 1, -1, -1, 1, 1]
  const whole = (own: Partial<PlannerBaseline>, after: number, charts = 4_000) =>
    wholePlan(steady(own), after, 1, 4, () => {}, charts)!

  it('is the first answer where no rule is slow, and says so', () => {
    const first = signalPlan(steady(), 1, 1, 4)!
    expect(first.leftOut).toEqual([])
    expect(whole({}, 1)).toEqual(first)
  })

  it.each([
    ['shewhart-healthcare', { kind: 'normal', sigma: 1 }, 0, 1, ['trend'], null],
    ['eight-tests', { kind: 'normal', sigma: 1 }, 0, 1, ['trend', 'alternating'], null],
    ['shewhart-healthcare', { kind: 't' }, 20, 50, ['trend'], null],
    ['shewhart-healthcare', { kind: 'p', denominators: [40] }, 0.6, 0.75, ['trend'], 4_000],
    ['shewhart-healthcare', { kind: 'u', denominators: [1] }, 9, 4, ['trend'], 4_000],
    ['run-classic', { kind: 'normal', sigma: 1 }, 0, 1, ['trend', 'runs'], 4_000],
    ['run-length-adjusted', { kind: 'normal', sigma: 1 }, 0, 1, ['crossings'], 4_000],
    ['run-length-adjusted', { kind: 'g' }, 20, 60, ['crossings'], 4_000],
  ] as const)(
    'counts what %s leaves out at first (%j)',
    (ruleSet, model, level, after, slow, charts) => {
      const own = { ruleSet, model, level, sides } as Partial<PlannerBaseline>
      const first = signalPlan(steady(own), after, 1, 4)!
      const answer = whole(own, after)
      expect(first.leftOut).toEqual(slow)
      expect(answer).toMatchObject({ leftOut: [], charts, alreadySignals: false })
      // More rules never signal later, but for chance; the adjusted limits allow for the points before.
      if (ruleSet !== 'run-length-adjusted')
        answer.chances.forEach((chance, t) => {
          expect(chance).toBeGreaterThan(first.chances[t]! - 0.03)
        })
      answer.chances.forEach((chance, t) => {
        expect(chance).toBeGreaterThanOrEqual(answer.chances[t - 1] ?? 0)
      })
      expect(answer.chances.at(-1)!).toBeGreaterThan(answer.falseChances.at(-1)! - 0.02)
    },
  )

  it('has the false signals of a run chart of the same points, read at once', () => {
    // A chart looked at after every point signals at least as often as the same chart at its end.
    const own = { ruleSet: 'run-classic', sides: [] } as const
    const { falseChances } = whole(own, 1)
    const atEnd = simulateSignals({ kind: 'run', ruleSet: 'run-classic', points: 24 })
    expect(falseChances[23]!).toBeGreaterThan(atEnd.chance - 3 * atEnd.standardError)
    expect(falseChances[8]).toBe(0)
  })

  it('says where the phase already signals, and then counts from the test on', () => {
    const own = { ruleSet: 'run-length-adjusted', sides: new Array<number>(16).fill(1) } as const
    const plan = whole(own, 1)
    expect(plan.alreadySignals).toBe(true)
    expect(plan.chances[8]).toBe(0)
  })

  it('gives the same answer each time, and counts its way there', () => {
    const seen: PlanProgress[] = []
    const own = steady({ ruleSet: 'run-classic', sides })
    const plan = wholePlan(own, 1, 1, 4, (p) => seen.push(p), 1_000)!
    expect(wholePlan(own, 1, 1, 4, () => {}, 1_000)).toEqual(plan)
    expect(seen.map((p) => p.done)).toEqual(seen.map((p) => p.done).sort((a, b) => a - b))
    expect(seen.at(-1)).toEqual({ done: 4_000, total: 4_000, of: 'charts' })
  })
})

const weekly = (n: number) =>
  Array.from({ length: n }, (_, i) =>
    new Date(Date.UTC(2026, 0, 5 + 7 * i)).toISOString().slice(0, 10),
  )

describe('the baseline of the planner', () => {
  it('pools a share, and stops where the limits are frozen', () => {
    const observations = weekly(24).map((at, i) =>
      observation({ at, numerator: i < 20 ? 25 : 40, denominator: 40 }),
    )
    const frozenThrough = weekly(24)[19]!
    const data = { measure: measure(), observations, phases: [phase({ frozenThrough })] }
    const baseline = baselineOf(data)!
    expect(baseline).toMatchObject({ origin: 'frozen', level: 0.625, n: 20 })
    expect(baseline.model).toEqual({ kind: 'p', denominators: new Array<number>(12).fill(40) })
    expect(baseline.rhythm.word).toBe('week')
  })

  it('takes sigma from the moving range of e-Handbook 6.3.2.2 (flow rate: 2.0891 over 1.128)', () => {
    const values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    const observations = values.map((value, i) => observation({ at: weekly(10)[i]!, value }))
    const data = { measure: measure({ dataKind: 'single' }), observations, phases: [] }
    const { model, origin } = baselineOf(data)!
    expect(origin).toBe('open')
    // Printed limits: 50.81 ± 4.9941.
    expect(model.kind === 'normal' && 3 * model.sigma).toBeCloseTo(4.9941, 2)
  })

  it('needs two points that differ', () => {
    const single = measure({ dataKind: 'single' })
    const equal = weekly(3).map((at) => observation({ at, value: 5 }))
    expect(baselineOf({ measure: single, observations: [], phases: [] })).toBeNull()
    expect(baselineOf({ measure: single, observations: equal, phases: [] })).toBeNull()
    expect(canPlan(measure({ chartKind: 'ewma' }))).toBe(false)
  })

  it('takes a guess as a guess, once it is whole', () => {
    const guess = { level: 0.6, spread: null, denominator: 30 }
    expect(guessedBaseline(measure(), guess)).toMatchObject({ origin: 'guess', n: 0, level: 0.6 })
    expect(guessedBaseline(measure(), { ...guess, denominator: null })).toBeNull()
    expect(guessedBaseline(measure(), { ...guess, level: 60 })).toBeNull()
    const single = measure({ dataKind: 'single' })
    expect(guessedBaseline(single, guess)).toBeNull()
    const spread = guessedBaseline(single, { level: 60, spread: 11.28, denominator: null })
    expect(spread!.model).toEqual({ kind: 'normal', sigma: expect.closeTo(10, 9) })
    const falls = measure({ dataKind: 'rates', per: 1000 })
    const rate = guessedBaseline(falls, { level: 6, spread: null, denominator: 700 })
    expect(rate!.model).toEqual({ kind: 'u', denominators: [0.7] })
  })

  it('reads the rhythm of the dates', () => {
    expect(rhythmOf(['2026-01', '2026-02', '2026-03'])).toEqual({ word: 'month', days: 30.44 })
    expect(rhythmOf(['1', '2', '3'])).toEqual({ word: 'point', days: null })
    expect(rhythmOf(['2026-01-01'])).toEqual({ word: 'point', days: null })
    const days = rhythmOf(['2026-03-02', '2026-03-03', '2026-03-04'])
    expect(pointsWithin(days, '2026-03-02', '2026-03-15')).toBe(14)
    expect(pointsWithin(days, '2026-03-02', null)).toBeNull()
    expect(pointsWithin({ word: 'week', days: 7 }, '2026-03-02', '2026-03-03')).toBe(1)
  })
})
