import { describe, expect, it } from 'vitest'
import { openRound, sampleRoom, withTable } from '../../../tests/support/sample-room.ts'
import { marks, seatsWith, type ToldRound, toldRoom } from '../../../tests/support/wrap-up-room.ts'
import { wardQuestions } from './ward-questions.ts'
import { wrapUp } from './wrap-up.ts'

const timed = (...times: (number | null)[]): ToldRound[] => times.map((seconds) => ({ seconds }))

describe('the learning curve', () => {
  it('finds the 80 % curve of Wright (1936): 100, 80, 70.2, 64, whose progress ratio is 0.8', () => {
    // Unit factors of an 80 % curve as printed in textbook tables: 1, 0.8, 0.7021, 0.64.
    const { learning } = wrapUp(toldRoom({ Kestrel: timed(100, 80, 70.21, 64) }))
    expect(learning.typical!.progressRatio.estimate).toBeCloseTo(0.8, 4)
    expect(learning.typical!.first).toBeCloseTo(100, 1)
    expect(learning.curves).toBe(1)
  })

  it('is not fitted to two rounds, nor to a third without a time', () => {
    const room = toldRoom({ Kestrel: timed(100, 80), Wren: timed(90, null, 70) })
    const { learning } = wrapUp(room)
    expect(learning.typical).toBeNull()
    expect(learning.tables.map((t) => [t.n, t.curve])).toEqual([
      [2, null],
      [2, null],
    ])
  })

  it('takes tables, not rounds, as the sample: mean of the exponents with Student’s interval', () => {
    const room = toldRoom({ A: timed(100, 80, 70.21), B: timed(100, 90, 84.62) })
    const { tables, typical } = wrapUp(room).learning
    const [a, b] = tables.map((t) => t.curve!.exponent.estimate) as [number, number]
    // For two values the half width is t(0.975; 1) · |a − b| / 2, with t = 12.706 (printed tables).
    const half = (12.706 * Math.abs(a - b)) / 2
    expect(typical!.exponent.estimate).toBeCloseTo((a + b) / 2, 12)
    expect(typical!.exponent.upper).toBeCloseTo((a + b) / 2 + half, 4)
    expect(typical!.progressRatio.lower).toBeCloseTo(2 ** typical!.exponent.lower, 12)
  })

  it('counts how often a table had done the task, not the rounds of the room', () => {
    const { rows } = wrapUp(toldRoom({ Kestrel: timed(100, null, 80, 64) }))
    expect(rows.map((row) => row.turn)).toEqual([1, 1, 2, 3])
  })

  it('does not count a round that only lies open, carried over from the one before', () => {
    const room = withTable(sampleRoom(), 1, (t) => ({
      ...t,
      rounds: [...t.rounds, openRound(1, 4)],
    }))
    expect(wrapUp(room, room.tables[0]!.id).rows.map((row) => row.round)).toEqual([1, 2, 3])
  })

  it('leaves a removed table out, also of the count of tables', () => {
    const room = withTable(sampleRoom(), 1, (t) => ({ ...t, removed: true }))
    const found = wrapUp(room)
    expect(found.tables).toBe(5)
    expect(found.rows.some((row) => row.table === 'Kestrel')).toBe(false)
    expect(found.learning.curves).toBe(5)
  })
})

describe('the spread between tables', () => {
  it('compares first and last round over the tables that did both', () => {
    const room = toldRoom({ A: timed(120, 60), B: timed(60, 40), C: timed(400, null) })
    expect(wrapUp(room).spread).toEqual({
      rounds: [
        { round: 1, n: 3, fastest: 60, median: 120, slowest: 400 },
        { round: 2, n: 2, fastest: 40, median: 50, slowest: 60 },
      ],
      closer: { tables: 2, first: { round: 1, ratio: 2 }, last: { round: 2, ratio: 1.5 } },
    })
  })

  it('is not given for one table', () => {
    const room = sampleRoom()
    expect(wrapUp(room, room.tables[0]!.id).spread).toBeNull()
  })
})

describe('time and quality together', () => {
  it('adds up the clock to the first round with the whole checklist right', () => {
    const room = toldRoom({
      A: [
        { seconds: 90, right: 11 },
        { seconds: 70, right: 12 },
        { seconds: 50, right: 12 },
      ],
      // Eight of eight looked at, but the checklist has twelve.
      B: [{ seconds: 30, right: 8, inspected: 8 }],
      C: [
        { seconds: null, right: 3 },
        { seconds: 40, right: 12 },
      ],
    })
    expect(wrapUp(room).correct.map(({ first, fastest }) => ({ first, fastest }))).toEqual([
      { first: { round: 2, seconds: 160 }, fastest: { round: 3, seconds: 50 } },
      { first: null, fastest: null },
      { first: { round: 2, seconds: null }, fastest: { round: 2, seconds: 40 } },
    ])
  })

  it.each([
    [90, 12, 70, 10, 'quality-for-speed'],
    [70, 10, 90, 12, 'speed-for-quality'],
    [90, 10, 70, 12, 'both-better'],
    [70, 12, 90, 10, 'both-worse'],
    [90, 12, 70, 12, 'no-worse'],
    [70, 10, 70, 12, 'no-worse'],
    [70, 12, 90, 12, 'no-better'],
    [70, 12, 70, 12, 'same'],
  ])('calls %d s with %d right, then %d s with %d right, %s', (s1, r1, s2, r2, kind) => {
    const rounds = [
      { seconds: s1, right: r1 },
      { seconds: s2, right: r2 },
    ]
    expect(wrapUp(toldRoom({ A: rounds })).trades.map((t) => t.kind)).toEqual([kind])
  })
})

describe('predictions', () => {
  it('gives the Wilson interval of 1 in 29 (Newcombe 1998, Stat Med 17:857: 0.0061 to 0.1718)', () => {
    const time = { low: 80, expected: 90, high: 100 }
    const rounds = Array.from({ length: 29 }, (_, i) => ({ seconds: i === 0 ? 90 : 120, time }))
    const { all } = wrapUp(toldRoom({ A: rounds })).predictions
    expect(all!.share.lower).toBeCloseTo(0.0061, 4)
    expect(all!.share.upper).toBeCloseTo(0.1718, 4)
  })

  it('groups by round of the room, with the bias of times as a log ratio (Tofallis 2015)', () => {
    const time = { low: 40, expected: 50, high: 60 }
    const room = toldRoom({
      A: [
        { seconds: 100, time },
        { seconds: 50, time },
      ],
      B: [{ seconds: 50, time, right: 12, quality: { low: 0.5, expected: 0.8, high: 1 } }],
    })
    const { rounds, time: times, quality } = wrapUp(room).predictions
    expect(rounds.map(({ round, n, inside }) => [round, n, inside])).toEqual([
      [1, 3, 2],
      [2, 1, 1],
    ])
    expect(rounds[0]!.timeBias).toBeCloseTo(Math.log(1 / 2) / 2, 12)
    expect([times!.n, quality!.n]).toEqual([3, 1])
  })

  it('leaves out what is not locked, and what has no outcome', () => {
    const room = sampleRoom()
    const open = withTable(room, 1, (t) => ({
      ...t,
      rounds: t.rounds.map((r) => ({ ...r, lockedAt: null })),
    }))
    expect(wrapUp(room).predictions.all!.n - wrapUp(open).predictions.all!.n).toBe(6)
    const time = { low: 1, expected: 2, high: 3 }
    expect(wrapUp(toldRoom({ A: [{ seconds: null, time }] })).predictions.all).toBeNull()
  })
})

describe('what decisions bought', () => {
  it('has the geometric mean of the ratios, and an interval from three on', () => {
    const pair = (first: number, second: number, decision: 'adapt' | 'adopt'): ToldRound[] => [
      { seconds: first, right: 12, decision },
      { seconds: second, right: 11 },
    ]
    const room = toldRoom({
      A: pair(100, 50, 'adapt'),
      B: pair(100, 80, 'adapt'),
      C: pair(100, 100, 'adapt'),
      D: pair(100, 90, 'adopt'),
    })
    const [adopt, adapt] = wrapUp(room).decisions
    expect(adopt).toMatchObject({ kind: 'adopt', n: 1, ratios: [0.9], interval: null })
    expect(adapt).toMatchObject({ kind: 'adapt', n: 3, ratios: [0.5, 0.8, 1], fewerRight: 3 })
    expect(adapt!.typical).toBeCloseTo(0.4 ** (1 / 3), 12)
    // t(0.975; 2) = 4.303 in printed tables.
    const logs = [0.5, 0.8, 1].map(Math.log)
    const mean = Math.log(0.4) / 3
    const sd = Math.sqrt(logs.reduce((s, x) => s + (x - mean) ** 2, 0) / 2)
    expect(Math.log(adapt!.interval!.upper)).toBeCloseTo(mean + (4.303 * sd) / Math.sqrt(3), 3)
  })

  it('does not reach over a round without a time', () => {
    expect(wrapUp(toldRoom({ A: timed(100, null, 50) })).decisions).toEqual([])
  })
})

describe('two timers', () => {
  /** Peak flow of 17 subjects, first readings of two meters: Bland & Altman (1986), Lancet 327:307, table 1. */
  const WRIGHT = [
    494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427,
  ]
  const MINI = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]

  it('gives the bias of −2.1 and the deviation of 38.8 of Bland and Altman’s paper', () => {
    const timers = WRIGHT.map((w, i) => [w, MINI[i]!] as const)
    const { figures } = wrapUp(toldRoom({ A: [{ seconds: 60, timers }] })).timers
    expect(figures!.bias.estimate.toFixed(1)).toBe('-2.1')
    expect(figures!.sd.toFixed(1)).toBe('38.8')
    // The paper takes 2 deviations and prints −79.7 and 75.5; 1.96 of them lie a little inside.
    expect(figures!.lowerLimit.estimate).toBeCloseTo(-78.1, 1)
    expect(figures!.upperLimit.estimate).toBeCloseTo(73.9, 1)
  })

  it('shows plain pairs below three, the phone that started first', () => {
    const room = toldRoom({ A: [{ seconds: 60, timers: [[61, 60]] }] })
    expect(wrapUp(room).timers).toEqual({
      pairs: [{ table: 'A', round: 1, first: 61, second: 60 }],
      figures: null,
    })
  })

  it('does not count a void trial', () => {
    const room = toldRoom({ A: [{ seconds: 60, timers: [[61, 60]], voidReason: 'Dropped' }] })
    expect(wrapUp(room).timers.pairs).toEqual([])
  })
})

describe('two inspectors', () => {
  it('gives kappa 0.4 for 20, 5, 10 and 15, a widely reprinted two-way table', () => {
    const first = [...marks(25, 0), ...marks(0, 25)]
    const second = [...marks(20, 5), ...marks(10, 15)]
    const room = toldRoom({ A: [{ seconds: 60, inspectors: [first, second] }] })
    const { kappa, agreed, items } = wrapUp(room).inspectors
    expect(kappa!.estimate).toBeCloseTo(0.4, 12)
    // Interval recomputed with statsmodels: 0.1511 to 0.6489.
    expect(kappa!.lower).toBeCloseTo(0.1511, 4)
    expect([items, agreed!.estimate]).toEqual([50, 0.7])
  })

  it('gives no kappa below thirty items, nor where all are of one kind', () => {
    const one = (n: number) =>
      wrapUp(toldRoom({ A: [{ seconds: 60, inspectors: [marks(n, 0), marks(n, 0)] }] })).inspectors
    expect(one(12)).toMatchObject({ kappa: null, noKappa: 'too-few', items: 12 })
    expect(one(40)).toMatchObject({ kappa: null, noKappa: 'one-category', items: 40 })
  })

  it('counts an item only where both looked at it', () => {
    const room = toldRoom({
      A: [
        {
          seconds: 60,
          inspectors: [
            [1, null, 0],
            [1, 1, null],
          ],
        },
      ],
    })
    expect(wrapUp(room).inspectors.items).toBe(1)
  })
})

describe('a bare count of items right', () => {
  const room = toldRoom({
    A: [{ seconds: 60, right: 10, countOnly: 10, quality: { low: 0.5, expected: 0.7, high: 0.9 } }],
  })

  it('has its share right and its place to the prediction', () => {
    expect(wrapUp(room).rows[0]).toMatchObject({
      right: 10,
      share: 10 / 12,
      countOnly: true,
      qualityVerdict: 'inside',
    })
  })

  it('is no second inspector beside one who marked every item', () => {
    const beside = { seconds: 60, countOnly: 10, inspectors: [marks(12, 0), marks(12, 0)] } as const
    const { inspectors, rows } = wrapUp(toldRoom({ A: [beside] }))
    expect(inspectors).toMatchObject({ trials: 1, items: 12, countOnly: 0 })
    expect(rows[0]!.countOnly).toBe(false)
    expect(wrapUp(room).inspectors).toMatchObject({
      trials: 0,
      items: 0,
      countOnly: 1,
      kappa: null,
    })
  })
})

describe('confidence before and after', () => {
  /** Hours of sleep gained with two drugs by ten patients: Student (1908), Biometrika 6:1, section IX. */
  const FIRST = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2]
  const SECOND = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]

  it('gives the mean gain of 1.58 that Student’s paper has, pair by pair', () => {
    const seats = seatsWith(FIRST.map((before, i) => [before, SECOND[i]!]))
    const room = withTable(toldRoom({ A: [] }), 1, (t) => ({ ...t, seats }))
    const { change, both } = wrapUp(room).confidence!
    expect([both, change!.mean.toFixed(2)]).toEqual([10, '1.58'])
    // 95 % interval of base R’s t.test(paired = TRUE) on its `sleep` data: 0.700 to 2.460.
    expect(change!.interval!.lower).toBeCloseTo(0.7, 3)
    expect(change!.interval!.upper).toBeCloseTo(2.46, 2)
    expect([change!.up, change!.same, change!.down]).toEqual([9, 1, 0])
  })

  it('shows nothing below three people, and does not pair what is not a pair', () => {
    const seats = seatsWith([
      [3, 5],
      [4, 6],
      [4, null],
      [null, 9],
      [null, null],
    ])
    const room = withTable(toldRoom({ A: [] }), 1, (t) => ({ ...t, seats }))
    const found = wrapUp(room).confidence
    expect(found).toMatchObject({ both: 2, beforeOnly: 1, afterOnly: 1, change: null })
  })

  it('has no interval where everybody changed alike, nor for one table, nor to others', () => {
    const seats = seatsWith([
      [3, 5],
      [4, 6],
      [5, 7],
    ])
    const room = withTable(toldRoom({ A: [] }), 1, (t) => ({ ...t, seats }))
    expect(wrapUp(room).confidence!.change).toMatchObject({ mean: 2, interval: null })
    expect(wrapUp(room, room.tables[0]!.id).confidence).toBeNull()
    expect(wrapUp({ ...room, viewer: { as: 'screen' } }).confidence).toBeNull()
  })
})

describe('questions for the ward', () => {
  it('begin with what the class showed, and never run out', () => {
    const plain = wardQuestions(wrapUp(toldRoom({ A: [] })))
    expect(plain).toHaveLength(4)
    const traded = toldRoom({
      A: [
        { seconds: 90, right: 12 },
        { seconds: 60, right: 9 },
      ],
    })
    expect(wardQuestions(wrapUp(traded))[0]).toContain('leaving something out')
    expect(new Set(wardQuestions(wrapUp(sampleRoom()))).size).toBeGreaterThanOrEqual(4)
  })
})
