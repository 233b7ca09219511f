import fc from 'fast-check'
import { expect, it } from 'vitest'
import { AppError } from '../errors.ts'
import { andersonDarling } from './anderson-darling.ts'
import { autocorrelation } from './autocorrelation.ts'
import { bernoulliCusum, bernoulliCusumRunLength, bernoulliScores } from './bernoulli-cusum.ts'
import { blandAltman } from './bland-altman.ts'
import { calibration } from './calibration.ts'
import { capability } from './capability.ts'
import { changePoint } from './change-point.ts'
import { clopperPearsonInterval } from './clopper-pearson-interval.ts'
import { cohenKappa } from './cohen-kappa.ts'
import { durbinWatson } from './durbin-watson.ts'
import { factorialDesign } from './factorial-design.ts'
import { factorialEffects } from './factorial-effects.ts'
import { binomialFunnelLimit, poissonFunnelLimit } from './funnel-limits.ts'
import { funnelPlot } from './funnel-plot.ts'
import { intervalScore } from './interval-score.ts'
import { learningCurve, learningCurveTime } from './learning-curve.ts'
import { halfNormalScores, lenth } from './lenth.ts'
import { linearModel } from './linear-model.ts'
import { logAccuracyRatio } from './log-accuracy-ratio.ts'
import { meanAndSd } from './mean-and-sd.ts'
import { meanDifference } from './mean-difference.ts'
import { nextBinomialCount, nextPoissonCount } from './next-count-interval.ts'
import { nextMeanInterval, nextValuesInterval } from './next-values-interval.ts'
import { pairedDifference } from './paired-difference.ts'
import { pairedProportionDifference } from './paired-proportion-difference.ts'
import { permutationDifference } from './permutation-difference.ts'
import { poissonInterval } from './poisson-interval.ts'
import { proportionDifference } from './proportion-difference.ts'
import { rateRatio } from './rate-ratio.ts'
import {
  observedMinusExpected,
  riskAdjustedCusum,
  riskAdjustedScores,
} from './risk-adjusted-cusum.ts'
import { runOrder } from './run-order.ts'
import { powerForMeans, sampleSizeForMeans } from './sample-size-means.ts'
import { powerForProportions, sampleSizeForProportions } from './sample-size-proportions.ts'
import { powerForRates, sampleSizeForRates } from './sample-size-rates.ts'
import { segmentedRegression } from './segmented-regression.ts'
import { shapiroWilk } from './shapiro-wilk.ts'
import { timeRatio } from './time-ratio.ts'
import { wilsonInterval } from './wilson-interval.ts'

/** Anything a program may pass by mistake, mixed with what it should. */
const odd = fc.oneof(
  fc.constantFrom(0, -0, 1, 2, 3, 5, 10, 0.5, 0.05, 0.95, 1.5, -1, 100, 1e6),
  fc.constantFrom(
    Number.NaN,
    Infinity,
    -Infinity,
    1e308,
    -1e308,
    5e-324,
    1e-200,
    1e200,
    2 ** 53,
    1e-16,
  ),
  fc.double({ min: 0, max: 1, noNaN: true }),
  fc.integer({ min: 0, max: 60 }),
)
const list = fc.oneof(
  fc.array(odd, { maxLength: 12 }),
  fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 3, maxLength: 14 }),
  fc.constantFrom([], [7], [4, 4, 4, 4, 4, 4, 4, 4, 4]),
)
const n = (...count: number[]) => fc.tuple(...count.map(() => odd))

// biome-ignore lint/suspicious/noExplicitAny: arguments are wrong on purpose.
type Call = readonly [name: string, inputs: fc.Arbitrary<any>, call: (...input: any[]) => unknown]

const CALLS: readonly Call[] = [
  ['wilsonInterval', n(1, 2, 3), wilsonInterval],
  ['clopperPearsonInterval', n(1, 2, 3), clopperPearsonInterval],
  ['proportionDifference', n(1, 2, 3, 4, 5), proportionDifference],
  [
    'pairedProportionDifference',
    n(1, 2, 3, 4, 5),
    (both, firstOnly, secondOnly, neither, level) =>
      pairedProportionDifference({ both, firstOnly, secondOnly, neither }, level),
  ],
  ['poissonInterval', n(1, 2, 3), poissonInterval],
  ['rateRatio', n(1, 2, 3, 4, 5), rateRatio],
  ['meanAndSd', fc.tuple(list), meanAndSd],
  ['meanDifference', fc.tuple(list, list, odd), meanDifference],
  ['timeRatio', fc.tuple(list, list), timeRatio],
  ['pairedDifference', fc.tuple(list, list), pairedDifference],
  [
    'permutationDifference',
    fc.tuple(list, list, odd, odd),
    (a, b, level, seed) => permutationDifference(a, b, { level, seed, draws: 50 }),
  ],
  [
    'nextValuesInterval',
    fc.tuple(list, fc.constantFrom(1, 1, 2, 0, 1e9, Number.NaN), odd),
    nextValuesInterval,
  ],
  ['nextMeanInterval', fc.tuple(list, odd, odd), nextMeanInterval],
  ['nextPoissonCount', n(1, 2, 3, 4), nextPoissonCount],
  ['nextBinomialCount', n(1, 2, 3, 4), nextBinomialCount],
  [
    'sampleSizeForProportions',
    n(1, 2, 3, 4, 5),
    (p1, p2, alpha, power, ratio) =>
      sampleSizeForProportions(p1, p2, { alpha, power, ratio, corrected: true }),
  ],
  ['powerForProportions', n(1, 2, 3, 4, 5), powerForProportions],
  [
    'powerForMeans',
    n(1, 2, 3, 4, 5),
    (a, b, d, sd, alpha) => powerForMeans(a, b, d, sd, { alpha }),
  ],
  [
    'sampleSizeForMeans',
    n(1, 2, 3, 4, 5),
    (d, sd, alpha, power, ratio) => sampleSizeForMeans(d, sd, { alpha, power, ratio }),
  ],
  ['powerForRates', n(1, 2, 3, 4, 5), powerForRates],
  [
    'sampleSizeForRates',
    n(1, 2, 3, 4, 5),
    (a, b, alpha, power, ratio) => sampleSizeForRates(a, b, { alpha, power, ratio }),
  ],
  ['cohenKappa', fc.tuple(fc.array(list, { maxLength: 4 })), cohenKappa],
  [
    'blandAltman',
    fc.tuple(list, list, odd),
    (a, b, multiplier) => blandAltman(a, b, { multiplier }),
  ],
  ['learningCurve', fc.tuple(list, list), (times, rounds) => learningCurve(times, { rounds })],
  [
    'learningCurveTime',
    n(1, 2, 3),
    (first, estimate, round) => learningCurveTime({ first, exponent: { estimate } }, round),
  ],
  ['intervalScore', n(1, 2, 3, 4), intervalScore],
  ['logAccuracyRatio', n(1, 2), logAccuracyRatio],
  [
    'calibration',
    fc.tuple(
      fc.array(fc.record({ low: odd, high: odd, confidence: odd, outcome: odd, expected: odd }), {
        maxLength: 4,
      }),
    ),
    calibration,
  ],
  [
    'linearModel',
    fc.tuple(list, list, list, odd),
    (a, b, y, lag) => linearModel({ a, b }, y, { lag }),
  ],
  ['segmentedRegression', fc.tuple(list, fc.array(odd, { maxLength: 2 })), segmentedRegression],
  ['durbinWatson', fc.tuple(list), durbinWatson],
  [
    'changePoint',
    fc.tuple(list, fc.constantFrom('normal', 'poisson')),
    (y, model) => changePoint(y, { model }),
  ],
  [
    'changePoint binomial',
    fc.tuple(list, list),
    (y, denominators) => changePoint(y, { model: 'binomial', denominators }),
  ],
  ['autocorrelation', fc.tuple(list, odd), autocorrelation],
  ['shapiroWilk', fc.tuple(list), shapiroWilk],
  ['andersonDarling', fc.tuple(list), andersonDarling],
  [
    'capability',
    n(1, 2, 3, 4, 5),
    (mean, sigma, lower, upper, size) => capability({ mean, sigma, n: size }, { lower, upper }),
  ],
  ['factorialDesign', n(1), factorialDesign],
  [
    'factorialEffects',
    fc.tuple(list, list),
    (y, center) => factorialEffects(factorialDesign(3), y, center),
  ],
  ['lenth', fc.tuple(list, odd), lenth],
  ['halfNormalScores', fc.tuple(list), halfNormalScores],
  [
    'runOrder',
    fc.tuple(fc.constantFrom(1, 5, 0, -1, 1.5, Number.NaN), odd, fc.constantFrom(1, 2, -1)),
    runOrder,
  ],
  ['binomialFunnelLimit', n(1, 2, 3), binomialFunnelLimit],
  ['poissonFunnelLimit', n(1, 2, 3), poissonFunnelLimit],
  [
    'funnelPlot',
    fc.tuple(
      fc.array(fc.record({ numerator: odd, denominator: odd }), { maxLength: 5 }),
      fc.constantFrom('proportion', 'rate'),
      fc.constantFrom('none', 'additive', 'multiplicative'),
    ),
    (units, kind, widening) => funnelPlot(units, { kind, widening }),
  ],
  ['riskAdjustedScores', n(1, 2), riskAdjustedScores],
  [
    'riskAdjustedCusum',
    fc.tuple(list, list, odd, odd),
    (e, r, oddsRatio, limit) => riskAdjustedCusum(e, r, { oddsRatio, limit }),
  ],
  ['observedMinusExpected', fc.tuple(list, list), observedMinusExpected],
  ['bernoulliScores', n(1, 2), bernoulliScores],
  [
    'bernoulliCusum',
    fc.tuple(list, odd, odd, odd),
    (e, p0, p1, limit) => bernoulliCusum(e, { p0, p1, limit }),
  ],
  [
    'bernoulliCusumRunLength',
    n(1, 2, 3),
    (step, limit, p) => bernoulliCusumRunLength(step, Math.min(limit, 300), p),
  ],
]

function noNaN(value: unknown, path: string): void {
  if (typeof value === 'number') expect(Number.isNaN(value), path).toBe(false)
  else if (Array.isArray(value)) value.forEach((v, i) => void noNaN(v, `${path}[${i}]`))
  else if (typeof value === 'object' && value !== null) {
    for (const [key, v] of Object.entries(value)) noNaN(v, `${path}.${key}`)
  }
}

it.each(CALLS)(
  '%s answers without NaN or refuses with a code, whatever it is given',
  (name, inputs, call) => {
    fc.assert(
      fc.property(inputs, (input) => {
        let answer: unknown
        try {
          answer = call(...input)
        } catch (error) {
          expect(error).toBeInstanceOf(AppError)
          return
        }
        noNaN(answer, name)
      }),
      { numRuns: 200 },
    )
  },
)

it('refuses at once what would take minutes', () => {
  const long = Array.from({ length: 200_000 }, (_, i) => (i * 7919) % 1000)
  const code = 'stats.too_many_points'
  for (const call of [
    () => permutationDifference(long, long),
    () => autocorrelation(long, 199_000),
    () =>
      linearModel({ constant: long.map(() => 1), x: long.map((_, i) => i) }, long, {
        lag: 100_000,
      }),
    () => runOrder(1_000_000_000, 1),
    () => bernoulliCusumRunLength(60_000, 60_000, 0.5),
    () => shapiroWilk(long),
  ]) {
    expect(call).toThrow(expect.objectContaining({ code }))
  }
})

it('takes ten million points in stride', () => {
  const many = new Array<number>(10_000_000)
  for (let i = 0; i < many.length; i++) many[i] = (i % 10) + (i < 4_000_000 ? 0 : 1)
  expect(meanAndSd(many).n).toBe(10_000_000)
  expect(Math.abs(changePoint(many).at - 4_000_000)).toBeLessThan(10)
  expect(autocorrelation(many, 2).values.length).toBe(2)
}, 60_000)
