import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bernoulliCusum, bernoulliCusumRunLength, bernoulliScores } from './bernoulli-cusum.ts'
import {
  observedMinusExpected,
  riskAdjustedCusum,
  riskAdjustedScores,
} from './risk-adjusted-cusum.ts'
import { createRandom } from './special/random.ts'

const EVENTS = [0, 0, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 1, 0, 1, 1, 0, 0, 0, 1]
const RISKS = [
  0.03, 0.12, 0.08, 0.02, 0.3, 0.05, 0.2, 0.1, 0.04, 0.15, 0.02, 0.07, 0.5, 0.03, 0.09, 0.25, 0.01,
  0.06, 0.18, 0.11,
]

describe('EF10 risk-adjusted CUSUM', () => {
  /** Steiner et al. (2000), Biostatistics 1:441: logit p = −3.68 + 0.077 × Parsonnet score; .67 and −.02 printed for a score of 0. */
  it.each([
    { score: 0, p: 0.0246024284027, event: 0.668842517941, noEvent: -0.0243046626185 },
    { score: 20, p: 0.105269389523, event: 0.593058083879, noEvent: -0.100089096681 },
    { score: 40, p: 0.354343693774, event: 0.389830202406, noEvent: -0.303316978154 },
  ])(
    'scores a death and a survivor with a Parsonnet score of $score',
    ({ score, p, event, noEvent }) => {
      const risk = 1 / (1 + Math.exp(3.68 - 0.077 * score))
      expect(risk).toBeCloseTo(p, 11)
      const got = riskAdjustedScores(risk, 2)
      expect(got.event).toBeCloseTo(event, 11)
      expect(got.noEvent).toBeCloseTo(noEvent, 11)
      if (score === 0)
        expect([got.event.toFixed(2), got.noEvent.toFixed(2)]).toEqual(['0.67', '-0.02'])
    },
  )

  it('follows the recursion over twenty made-up cases (recomputed)', () => {
    const worse = riskAdjustedCusum(EVENTS, RISKS, { oddsRatio: 2, limit: 2 })
    expect(worse.path[7]).toBeCloseTo(1.39389170801, 10)
    expect(worse.path[19]).toBeCloseTo(2.81759764827, 10)
    expect(worse.firstSignal).toBe(15)
    const better = riskAdjustedCusum(EVENTS, RISKS, { oddsRatio: 0.5, limit: 2 })
    expect(better.path[5]).toBeCloseTo(0.197887073336, 10)
    expect(better.firstSignal).toBeNull()
  })

  it('adds up observed minus expected', () => {
    const path = observedMinusExpected(EVENTS, RISKS)
    expect(path[2]).toBeCloseTo(0.77, 12)
    expect(path.at(-1)).toBeCloseTo(4.59, 12)
  })

  it('is the Bernoulli CUSUM where every risk is the same', () => {
    const p0 = 0.1
    const odds = (p: number) => p / (1 - p)
    const p1 = 0.2
    const events = EVENTS.slice(0, 15)
    const one = riskAdjustedCusum(
      events,
      events.map(() => p0),
      { oddsRatio: odds(p1) / odds(p0), limit: 3 },
    )
    const two = bernoulliCusum(events, { p0, p1, limit: 3 })
    one.path.forEach((x, i) => {
      expect(x).toBeCloseTo(two.path[i]!, 12)
    })
  })

  it('never falls below 0, and falls behind when a case had no event', () => {
    const list = fc.array(
      fc.tuple(fc.boolean(), fc.double({ min: 0.01, max: 0.99, noNaN: true })),
      { minLength: 1, maxLength: 60 },
    )
    fc.assert(
      fc.property(list, fc.double({ min: 1.1, max: 5, noNaN: true }), (cases, oddsRatio) => {
        const events = cases.map(([e]) => e)
        const risks = cases.map(([, r]) => r)
        const { path } = riskAdjustedCusum(events, risks, { oddsRatio })
        const none = riskAdjustedCusum(
          events.map(() => false),
          risks,
          { oddsRatio },
        )
        path.forEach((x, i) => {
          expect(x).toBeGreaterThanOrEqual(0)
          expect(none.path[i]).toBe(0)
        })
      }),
    )
  })

  it.each([
    [[1], [0], 'stats.impossible_outcome'],
    [[0, 0], [0.5, 1], 'stats.impossible_outcome'],
    [[0, 2], [0.5, 0.5], 'stats.out_of_range'],
    [[0, 1], [0.5], 'stats.length_mismatch'],
    [[0, 1], [0.5, 1.5], 'stats.out_of_range'],
    [[], [], 'stats.too_few_points'],
  ])('refuses events %j with risks %j', (events, risks, code) => {
    expect(() => riskAdjustedCusum(events, risks)).toThrow(expect.objectContaining({ code }))
  })

  it('refuses an odds ratio of 1', () => {
    expect(() => riskAdjustedScores(0.1, 1)).toThrow(
      expect.objectContaining({ code: 'stats.no_difference' }),
    )
  })
})

describe('EF10 Bernoulli CUSUM', () => {
  /** Reynolds & Stoumbos (1999), J Qual Technol 31:87, the formulas. */
  it.each([
    {
      p0: 0.01,
      p1: 0.02,
      event: Math.LN2,
      noEvent: -0.010152371464,
      reference: 0.0144353447045,
    },
    {
      p0: 0.05,
      p1: 0.1,
      event: Math.LN2,
      noEvent: -0.0540672212703,
      reference: 0.0723583768432,
    },
    {
      p0: 0.02,
      p1: 0.01,
      event: -Math.LN2,
      noEvent: 0.010152371464,
      reference: 0.0144353447045,
    },
  ])('scores $p0 against $p1', ({ p0, p1, event, noEvent, reference }) => {
    const got = bernoulliScores(p0, p1)
    expect(got.event).toBeCloseTo(event, 10)
    expect(got.noEvent).toBeCloseTo(noEvent, 11)
    expect(got.reference).toBeCloseTo(reference, 11)
  })

  it.each([
    { step: 9, limit: 15, p: 0.05, wait: 116.772045263 },
    { step: 9, limit: 15, p: 0.2, wait: 12.7994795767 },
    { step: 19, limit: 40, p: 0.02, wait: 992.487264761 },
    { step: 4, limit: 8, p: 0.1, wait: 81.1953491535 },
  ])(
    'waits $wait cases on the lattice of step $step, limit $limit at $p (recomputed as a Markov chain)',
    ({ step, limit, p, wait }) => {
      expect(bernoulliCusumRunLength(step, limit, p)).toBeCloseTo(wait, 7)
    },
  )

  it('is the mean of simulated waits, from any start', () => {
    const random = createRandom(4)
    let total = 0
    for (let i = 0; i < 4000; i++) {
      for (let x = 3; x < 12; ) {
        x = random.uniform() < 0.15 ? x + 5 : Math.max(0, x - 1)
        total++
      }
    }
    const exact = bernoulliCusumRunLength(5, 12, 0.15, 3)
    expect(Math.abs(total / 4000 / exact - 1)).toBeLessThan(0.06)
  })

  it('waits less the more events there are, the nearer the limit and the higher the start', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 2, max: 60 }),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        (step, limit, p) => {
          const wait = bernoulliCusumRunLength(step, limit, p)
          expect(wait).toBeGreaterThanOrEqual(Math.ceil(limit / step) * (1 - 1e-12))
          expect(bernoulliCusumRunLength(step, limit, Math.min(1, p * 1.1))).toBeLessThanOrEqual(
            wait * (1 + 1e-12),
          )
          expect(bernoulliCusumRunLength(step, limit + 1, p)).toBeGreaterThanOrEqual(
            wait * (1 - 1e-12),
          )
          expect(bernoulliCusumRunLength(step, limit, p, limit - 1)).toBeLessThanOrEqual(
            wait * (1 + 1e-12),
          )
        },
      ),
    )
    expect(bernoulliCusumRunLength(1, 5, 1)).toBe(5)
  })

  it('signals exactly on the limit of a lattice', () => {
    const { event, noEvent } = bernoulliScores(0.1, 0.2)
    const limit = 2 * event + noEvent
    expect(bernoulliCusum([1, 0, 1], { p0: 0.1, p1: 0.2, limit }).firstSignal).toBe(2)
  })

  it('refuses proportions of 0 or 1, or equal ones', () => {
    expect(() => bernoulliScores(0, 0.1)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
    expect(() => bernoulliScores(0.1, 1)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
    expect(() => bernoulliScores(0.1, 0.1)).toThrow(
      expect.objectContaining({ code: 'stats.no_difference' }),
    )
  })
})
