import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { calibration } from './calibration.ts'
import { intervalScore } from './interval-score.ts'
import { learningCurve, learningCurveTime } from './learning-curve.ts'
import { logAccuracyRatio } from './log-accuracy-ratio.ts'

describe('SC1 learning curve', () => {
  /** Unit factors of the power law, as printed in textbook tables of learning curves. */
  it.each([
    { ratio: 0.8, n: 2, factor: 0.8 },
    { ratio: 0.8, n: 4, factor: 0.64 },
    { ratio: 0.8, n: 10, factor: 0.4765 },
    { ratio: 0.85, n: 10, factor: 0.5828 },
    { ratio: 0.9, n: 10, factor: 0.7047 },
  ])('has factor $factor at unit $n for $ratio', ({ ratio, n, factor }) => {
    const curve = { first: 1, exponent: { estimate: Math.log2(ratio) } }
    expect(learningCurveTime(curve, n).toFixed(4)).toBe(factor.toFixed(4))
  })

  it('adds up to 6.315 for ten units at 80 %, as printed', () => {
    const curve = { first: 1, exponent: { estimate: Math.log2(0.8) } }
    let total = 0
    for (let n = 1; n <= 10; n++) total += learningCurveTime(curve, n)
    expect(total.toFixed(3)).toBe('6.315')
  })

  it('matches least squares on logs for four rounds (recomputed)', () => {
    const { first, exponent, progressRatio } = learningCurve([96, 71, 60, 54])
    expect(exponent.estimate).toBeCloseTo(-0.41766735304374286, 10)
    expect(first).toBeCloseTo(95.52915626652127, 9)
    expect(progressRatio.estimate).toBeCloseTo(0.7486340885298399, 10)
  })

  it('matches intervals for fifteen rounds (recomputed with SciPy)', () => {
    const curve = learningCurve([120, 104, 91, 88, 79, 80, 74, 70, 71, 66, 67, 62, 63, 60, 58])
    expect(curve.first).toBeCloseTo(123.48959831, 7)
    expect(curve.exponent.lower).toBeCloseTo(-0.285735671997, 10)
    expect(curve.exponent.upper).toBeCloseTo(-0.247336042632, 10)
    expect(curve.progressRatio.lower).toBeCloseTo(0.820323195577, 10)
    expect(curve.progressRatio.upper).toBeCloseTo(0.84245057716, 10)
    expect(curve.rSquared).toBeCloseTo(0.98575251211, 10)
    expect(learningCurveTime(curve, 30)).toBeCloseTo(49.8797878851, 8)
  })

  it('finds a perfect curve, and a flat one, without trouble', () => {
    const perfect = learningCurve([100, 80, 64, 51.2, 40.96, 32.768], {
      rounds: [1, 2, 4, 8, 16, 32],
    })
    expect(perfect.progressRatio.estimate).toBeCloseTo(0.8, 12)
    expect(perfect.progressRatio.upper - perfect.progressRatio.lower).toBeLessThan(1e-12)
    expect(learningCurve([60, 60, 60])).toMatchObject({ rSquared: null })
    expect(learningCurve([60, 60, 60]).progressRatio.estimate).toBeCloseTo(1, 12)
  })

  it('keeps its shape when times are given in another unit', () => {
    const list = fc.array(fc.double({ min: 1, max: 1e4, noNaN: true }), {
      minLength: 3,
      maxLength: 15,
    })
    fc.assert(
      fc.property(list, fc.double({ min: 0.01, max: 100, noNaN: true }), (times, c) => {
        const plain = learningCurve(times)
        const scaled = learningCurve(times.map((t) => c * t))
        expect(scaled.exponent.estimate).toBeCloseTo(plain.exponent.estimate, 8)
        expect(scaled.first / plain.first / c).toBeCloseTo(1, 8)
      }),
    )
  })

  it('refuses two rounds, a time of 0, and rounds that are all the same', () => {
    expect(() => learningCurve([9, 8])).toThrow(
      expect.objectContaining({ code: 'stats.too_few_points' }),
    )
    expect(() => learningCurve([9, 8, 0])).toThrow(
      expect.objectContaining({ details: { index: 2, value: 0 } }),
    )
    expect(() => learningCurve([9, 8, 7], { rounds: [2, 2, 2] })).toThrow(
      expect.objectContaining({ code: 'stats.constant' }),
    )
  })
})

describe('SC2 interval score', () => {
  /** Gneiting & Raftery (2007), JASA 102:359, eq. 43, by hand. */
  it.each([
    { low: 20, high: 40, outcome: 30, alpha: 0.2, score: 20 },
    { low: 20, high: 40, outcome: 45, alpha: 0.2, score: 70 },
    { low: 10, high: 20, outcome: 15, alpha: 0.1, score: 10 },
    { low: 10, high: 20, outcome: 22, alpha: 0.1, score: 50 },
    { low: 10, high: 20, outcome: 7, alpha: 0.2, score: 40 },
    { low: 0, high: 0, outcome: 1, alpha: 0.5, score: 4 },
    { low: 10, high: 20, outcome: 20, alpha: 0.1, score: 10 },
  ])(
    'scores $score for $low to $high and an outcome of $outcome',
    ({ low, high, outcome, alpha, score }) => {
      expect(intervalScore(low, high, outcome, 1 - alpha)).toBeCloseTo(score, 11)
    },
  )

  it('moves with a shift, follows scale, and mirrors', () => {
    const x = fc.integer({ min: -1000, max: 1000 })
    fc.assert(
      fc.property(x, fc.nat(500), x, x, (low, width, outcome, c) => {
        const plain = intervalScore(low, low + width, outcome)
        expect(intervalScore(low + c, low + width + c, outcome + c)).toBeCloseTo(plain, 9)
        expect(intervalScore(2 * low, 2 * (low + width), 2 * outcome)).toBeCloseTo(2 * plain, 9)
        expect(intervalScore(-low - width, -low, -outcome)).toBeCloseTo(plain, 9)
        expect(plain).toBeGreaterThanOrEqual(width)
      }),
    )
  })

  it('refuses a range that is upside down, and a confidence of 80', () => {
    expect(() => intervalScore(5, 4, 1)).toThrow('The low end 5 is above the high end 4')
    expect(() => intervalScore(4, 5, 1, 80)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
  })
})

describe('SC3 calibration', () => {
  /** Tofallis (2015), J Oper Res Soc 66:1352, the measure; the pairs are made up. */
  const actual = [100, 120, 80, 50, 200]
  const forecast = [110, 100, 90, 45, 260]

  it('takes the mean log accuracy ratio as bias', () => {
    const logs = actual.map((a, i) => logAccuracyRatio(forecast[i]!, a))
    expect(logs[1]).toBeCloseTo(-0.182321556794, 11)
    const { bias, biasN } = calibration(
      actual.map((outcome, i) => ({
        low: 0,
        high: 300,
        confidence: 0.8,
        outcome,
        expected: forecast[i]!,
      })),
    )
    expect(bias).toBeCloseTo(0.0375550814953, 11)
    expect(biasN).toBe(5)
  })

  it('counts an outcome on an end as inside, and gives the share its Wilson interval', () => {
    const range = { low: 10, high: 20, confidence: 0.8 }
    const c = calibration([
      { ...range, outcome: 10 },
      { ...range, outcome: 20 },
      { ...range, outcome: 21 },
      { ...range, confidence: 0.9, outcome: 12, expected: null },
    ])
    expect(c).toMatchObject({ n: 4, inside: 3, bias: null, biasN: 0 })
    expect(c.stated).toBeCloseTo(0.825, 12)
    expect(c.share.lower).toBeCloseTo(0.3006, 4)
    expect(c.meanIntervalScore).toBeCloseTo((10 + 10 + 20 + 10) / 4, 10)
  })

  it('treats twice as much and half as much alike', () => {
    const one = { low: 1, high: 30, confidence: 0.8, outcome: 10 }
    expect(
      calibration([
        { ...one, expected: 20 },
        { ...one, expected: 5 },
      ]).bias,
    ).toBeCloseTo(0, 12)
  })

  it('refuses an empty list and names the outcome that is not a number', () => {
    expect(() => calibration([])).toThrow(expect.objectContaining({ code: 'stats.too_few_points' }))
    expect(() => calibration([{ low: 1, high: 2, confidence: 0.8, outcome: Number.NaN }])).toThrow(
      expect.objectContaining({
        code: 'stats.not_finite',
        details: { index: 0, value: Number.NaN },
      }),
    )
  })
})
