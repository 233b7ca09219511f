import { andersonDarling } from '../../src/stats/anderson-darling.ts'
import { autocorrelation } from '../../src/stats/autocorrelation.ts'
import { bernoulliCusumRunLength } from '../../src/stats/bernoulli-cusum.ts'
import { blandAltman } from '../../src/stats/bland-altman.ts'
import { capability } from '../../src/stats/capability.ts'
import { changePoint } from '../../src/stats/change-point.ts'
import { clopperPearsonInterval } from '../../src/stats/clopper-pearson-interval.ts'
import { cohenKappa } from '../../src/stats/cohen-kappa.ts'
import { factorialDesign } from '../../src/stats/factorial-design.ts'
import { factorialEffects } from '../../src/stats/factorial-effects.ts'
import { funnelPlot } from '../../src/stats/funnel-plot.ts'
import { intervalScore } from '../../src/stats/interval-score.ts'
import { learningCurve } from '../../src/stats/learning-curve.ts'
import { lenth } from '../../src/stats/lenth.ts'
import { meanDifference } from '../../src/stats/mean-difference.ts'
import { nextBinomialCount, nextPoissonCount } from '../../src/stats/next-count-interval.ts'
import { nextMeanInterval } from '../../src/stats/next-values-interval.ts'
import { pairedDifference } from '../../src/stats/paired-difference.ts'
import { pairedProportionDifference } from '../../src/stats/paired-proportion-difference.ts'
import { permutationDifference } from '../../src/stats/permutation-difference.ts'
import { poissonInterval } from '../../src/stats/poisson-interval.ts'
import { proportionDifference } from '../../src/stats/proportion-difference.ts'
import { randomEffects } from '../../src/stats/random-effects.ts'
import { rateRatio } from '../../src/stats/rate-ratio.ts'
import { riskAdjustedCusum } from '../../src/stats/risk-adjusted-cusum.ts'
import { powerForMeans, sampleSizeForMeans } from '../../src/stats/sample-size-means.ts'
import {
  powerForProportions,
  sampleSizeForProportions,
} from '../../src/stats/sample-size-proportions.ts'
import { powerForRates, sampleSizeForRates } from '../../src/stats/sample-size-rates.ts'
import { segmentedRegression } from '../../src/stats/segmented-regression.ts'
import { shapiroWilk } from '../../src/stats/shapiro-wilk.ts'
import { timeRatio } from '../../src/stats/time-ratio.ts'
import { wilsonInterval } from '../../src/stats/wilson-interval.ts'
import type { Case, Draw } from './case.ts'

const ends = ({ lower, upper }: { lower: number; upper: number }) => [lower, upper]
const fraction = (r: Draw, most: number) => {
  const n = r.whole(1, most)
  return [r.whole(0, n), n]
}
const normals = (r: Draw, n: number, mean = 10, sd = 2) => r.list(n, () => mean + sd * r.normal())
const times = (r: Draw, n: number) => r.list(n, () => Math.exp(4 + 0.4 * r.normal()))

export const methodCases: readonly Case[] = [
  {
    name: 'wilsonInterval',
    against: 'statsmodels proportion_confint(wilson)',
    tolerance: 1e-10,
    floor: 1e-6,
    draw: (r) => [...fraction(r, 5000), r.level()],
    ours: (x: number, n: number, level: number) => ends(wilsonInterval(x, n, level)),
  },
  {
    name: 'clopperPearsonInterval',
    against: 'scipy.stats.beta.ppf (Boost)',
    tolerance: 1e-10,
    draw: (r) => [...fraction(r, 5000), r.level()],
    ours: (x: number, n: number, level: number) => ends(clopperPearsonInterval(x, n, level)),
  },
  {
    name: 'proportionDifference',
    against: 'statsmodels confint_proportions_2indep(newcomb)',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [...fraction(r, 300), ...fraction(r, 300), r.level()],
    ours: (a: number, m: number, b: number, n: number, level: number) =>
      ends(proportionDifference(a, m, b, n, level)),
  },
  {
    name: 'pairedProportionDifference',
    against: 'the published formula in NumPy',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [r.whole(1, 60), r.whole(0, 40), r.whole(0, 40), r.whole(0, 60), r.level()],
    ours: (both: number, firstOnly: number, secondOnly: number, neither: number, level: number) =>
      ends(pairedProportionDifference({ both, firstOnly, secondOnly, neither }, level)),
  },
  {
    name: 'poissonInterval',
    against: 'scipy.stats.chi2.ppf',
    tolerance: 1e-10,
    draw: (r) => [r.whole(0, 2000), r.spread(0.1, 1e4), r.level()],
    ours: (x: number, area: number, level: number) => ends(poissonInterval(x, area, level)),
  },
  {
    name: 'rateRatio',
    against: 'scipy.stats.beta.ppf (Boost) of the share',
    tolerance: 1e-10,
    draw: (r) => [r.whole(0, 300), r.spread(1, 1e4), r.whole(1, 300), r.spread(1, 1e4), r.level()],
    ours: (a: number, s: number, b: number, t: number, level: number) =>
      ends(rateRatio(a, s, b, t, level)),
  },
  {
    name: 'meanDifference',
    against: 'scipy ttest_ind and statsmodels CompareMeans(unequal)',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => [normals(r, r.whole(2, 15)), normals(r, r.whole(2, 15), 11, 4), r.level()],
    ours: (a: number[], b: number[], level: number) => {
      const { lower, upper, t, df, p } = meanDifference(a, b, level)
      return [lower, upper, t, df, p]
    },
  },
  {
    name: 'randomEffects',
    against: 'statsmodels combine_effects(dl), WLS and anova_generic(Welch)',
    tolerance: 1e-9,
    floor: 1e-6,
    draw: (r) => {
      const k = r.whole(2, 9)
      return [
        normals(r, k, 1, 0.6),
        r.list(k, () => r.between(0.1, 0.9)),
        r.list(k, () => r.whole(3, 30)),
        r.level(),
      ]
    },
    ours: (y: number[], s: number[], df: number[], level: number) => {
      const known = randomEffects(y, s, { level })
      const estimated = randomEffects(y, s, { level, degreesOfFreedom: df })
      const { lower, upper, q, iSquared, tauSquared } = known
      return [lower, upper, estimated.upper, q, known.p, iSquared, tauSquared, estimated.p]
    },
  },
  {
    name: 'timeRatio',
    against: 'statsmodels CompareMeans(unequal) on logs',
    tolerance: 1e-10,
    draw: (r) => [times(r, r.whole(2, 15)), times(r, r.whole(2, 15)), r.level()],
    ours: (a: number[], b: number[], level: number) => ends(timeRatio(a, b, level)),
  },
  {
    name: 'pairedDifference',
    against: 'scipy ttest_rel',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => {
      const n = r.whole(2, 20)
      return [normals(r, n), normals(r, n, 11), r.level()]
    },
    ours: (a: number[], b: number[], level: number) => {
      const { lower, upper, t, p } = pairedDifference(a, b, level)
      return [lower, upper, t, p]
    },
  },
  {
    name: 'permutationDifference',
    against: 'every deal in NumPy; its limits do and do not reject the shift',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [
      r.list(r.whole(3, 5), () => r.whole(0, 20)),
      r.list(r.whole(3, 5), () => r.whole(3, 25)),
      0.8,
    ],
    ours: (a: number[], b: number[], level: number) => {
      const { p, lower, upper } = permutationDifference(a, b, { level })
      return [p, lower, upper]
    },
  },
  {
    name: 'nextMeanInterval',
    against: 'scipy.stats.t.ppf',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => [normals(r, r.whole(3, 30)), r.whole(1, 10), r.level()],
    ours: (x: number[], k: number, level: number) => ends(nextMeanInterval(x, k, level)),
  },
  {
    name: 'nextPoissonCount',
    against: 'scipy.stats.binom, every count in turn',
    tolerance: 0,
    draw: (r) => [r.whole(0, 60), r.spread(1, 50), r.spread(1, 20), r.level()],
    ours: (x: number, t: number, next: number, level: number) =>
      ends(nextPoissonCount(x, t, next, level)),
  },
  {
    name: 'nextBinomialCount',
    against: 'math.comb, every count in turn',
    tolerance: 0,
    draw: (r) => [...fraction(r, 80), r.whole(1, 40), r.level()],
    ours: (x: number, n: number, next: number, level: number) =>
      ends(nextBinomialCount(x, n, next, level)),
  },
  {
    name: 'proportionPlans',
    against: 'statsmodels power_proportions_2indep at our size, and at any',
    tolerance: 1e-6,
    draw: (r) => {
      const p1 = r.between(0.02, 0.6)
      const p2 = p1 + r.between(0.02, 0.38)
      const alpha = r.between(0.01, 0.1)
      const power = r.between(0.6, 0.95)
      const { exact } = sampleSizeForProportions(p1, p2, { alpha, power })
      return [...(r.uniform() < 0.5 ? [p1, p2] : [p2, p1]), alpha, exact, r.whole(20, 400)]
    },
    ours: (p1: number, p2: number, alpha: number, size: number, n: number) => [
      powerForProportions(size, size, p1, p2, alpha),
      powerForProportions(n, n, p1, p2, alpha),
    ],
  },
  {
    name: 'powerForMeans',
    against: 'statsmodels TTestIndPower',
    tolerance: 1e-6,
    draw: (r) => [r.whole(2, 80), r.whole(2, 80), r.between(0.05, 1.5), r.between(0.01, 0.1)],
    ours: (n1: number, n2: number, d: number, alpha: number) =>
      powerForMeans(n1, n2, d, 1, { alpha }),
  },
  {
    name: 'sampleSizeForMeans',
    against: 'statsmodels TTestIndPower at our size',
    tolerance: 1e-6,
    draw: (r) => {
      const d = r.between(0.3, 1.5)
      const power = r.between(0.5, 0.95)
      return [sampleSizeForMeans(d, 1, { power }).exact, d, power]
    },
    ours: (_n: number, _d: number, power: number) => power,
  },
  {
    name: 'ratePlans',
    against: 'the formula in NumPy and scipy.stats.norm',
    tolerance: 1e-10,
    floor: 1e-12,
    draw: (r) => [r.spread(5, 500), r.spread(0.1, 3), r.spread(5, 500), r.spread(3.1, 9)],
    ours: (s: number, a: number, t: number, b: number) => [
      powerForRates(s, a, t, b),
      sampleSizeForRates(a, b, { ratio: t / s }).first,
    ],
  },
  {
    name: 'cohenKappa',
    against: 'statsmodels cohens_kappa, plain, linear and quadratic',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => {
      const k = r.whole(2, 5)
      return [
        Array.from({ length: k }, (_, i) =>
          r.list(k, () => 0).map((_, j) => r.whole(1, i === j ? 40 : 8)),
        ),
        r.whole(0, 2),
      ]
    },
    ours: (table: number[][], kind: number) => {
      const weights = (['none', 'linear', 'quadratic'] as const)[kind]!
      const { estimate, lower, upper, standardErrorAtZero } = cohenKappa(table, { weights })
      return [estimate, lower, upper, standardErrorAtZero]
    },
  },
  {
    name: 'blandAltman',
    against: 'NumPy and scipy.stats.t',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => {
      const n = r.whole(3, 30)
      return [normals(r, n, 60, 10), normals(r, n, 61, 10)]
    },
    ours: (a: number[], b: number[]) => {
      const { bias, lowerLimit, upperLimit } = blandAltman(a, b)
      return [bias.estimate, bias.lower, lowerLimit.estimate, lowerLimit.lower, upperLimit.upper]
    },
  },
  {
    name: 'learningCurve',
    against: 'scipy.stats.linregress on logs',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => [r.list(r.whole(3, 20), () => r.between(20, 200))],
    ours: (x: number[]) => {
      const { first, exponent, progressRatio } = learningCurve(x)
      return [first, exponent.estimate, exponent.lower, progressRatio.estimate]
    },
  },
  {
    name: 'intervalScore',
    against: 'the published formula in NumPy',
    tolerance: 1e-10,
    draw: (r) => {
      const low = r.between(0, 50)
      return [low, low + r.between(0.1, 30), r.between(-20, 100), r.between(0.5, 0.99)]
    },
    ours: intervalScore,
  },
  {
    name: 'segmentedRegression',
    against: 'statsmodels OLS, ordinary and HAC, and durbin_watson',
    tolerance: 1e-7,
    floor: 1e-4,
    draw: (r) => {
      const n = r.whole(16, 60)
      const first = r.whole(5, n - 10)
      return [
        r.list(n, () => 50 + 5 * r.normal()),
        first,
        Math.min(n - 4, first + r.whole(3, 20)),
        r.whole(0, 5),
      ]
    },
    ours: (y: number[], a: number, b: number, lag: number) => {
      const plain = segmentedRegression(y, [a, b])
      const robust = segmentedRegression(y, [a, b], { lag })
      return [
        ...plain.coefficients.map((c) => c.estimate),
        ...plain.coefficients.map((c) => c.standardError),
        ...plain.coefficients.map((c) => c.p),
        ...robust.coefficients.map((c) => c.standardError),
        plain.durbinWatson!,
        plain.rSquared!,
      ]
    },
  },
  {
    name: 'changePoint',
    against: 'the log-likelihood of every place in turn',
    tolerance: 1e-8,
    floor: 1e-3,
    draw: (r) => {
      const n = r.whole(6, 40)
      const at = r.whole(2, n - 2)
      const kind = r.whole(0, 2)
      const areas = r.list(n, () => r.whole(20, 60))
      const y = areas.map((area, i) => {
        const p = i < at ? 0.2 : 0.5
        return kind === 0
          ? 10 + 5 * p + r.normal()
          : r.list(area, r.uniform).filter((u) => u < p).length
      })
      return [y, areas, kind]
    },
    ours: (y: number[], areas: number[], kind: number) => {
      const model = (['normal', 'binomial', 'poisson'] as const)[kind]!
      const found = changePoint(y, kind === 0 ? {} : { model, denominators: areas })
      return [found.at, found.before, found.after, found.deviance, found.confidenceSet.length]
    },
  },
  {
    name: 'autocorrelation',
    against: 'statsmodels acf and acorr_ljungbox',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => [r.list(r.whole(12, 60), r.normal), r.whole(1, 8)],
    ours: (x: number[], lags: number) => {
      const { values, q, p } = autocorrelation(x, lags)
      return [...values, q, p]
    },
  },
  {
    name: 'shapiroWilk',
    against: 'scipy.stats.shapiro (single precision inside)',
    tolerance: 2e-4,
    floor: 0.1,
    draw: (r) => [r.list(r.whole(3, 80), r.uniform() < 0.5 ? r.normal : () => r.spread(1, 30))],
    ours: (x: number[]) => {
      const { w, p } = shapiroWilk(x)
      return [w, p]
    },
  },
  {
    name: 'andersonDarling',
    against: 'statsmodels normal_ad',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [r.list(r.whole(8, 80), r.uniform() < 0.5 ? r.normal : () => r.spread(1, 10))],
    ours: (x: number[]) => {
      const { statistic, p } = andersonDarling(x)
      return [statistic, p]
    },
  },
  {
    name: 'capability',
    against: 'scipy.stats.norm and chi2',
    tolerance: 1e-10,
    draw: (r) => [
      r.between(9, 11),
      r.between(0.2, 2),
      r.whole(5, 200),
      r.between(4, 8),
      r.between(12, 16),
    ],
    ours: (mean: number, sigma: number, n: number, lower: number, upper: number) => {
      const c = capability({ mean, sigma, n }, { lower, upper })
      return [
        c.cp!,
        c.cpk,
        c.shareOutside,
        c.cpInterval!.lower,
        c.cpInterval!.upper,
        c.cpkInterval!.lower,
      ]
    },
  },
  {
    name: 'factorialEffects',
    against: 'statsmodels OLS on the coded columns',
    tolerance: 1e-10,
    floor: 1e-2,
    draw: (r) => [r.list(16, () => 50 + 10 * r.normal())],
    ours: (y: number[]) => factorialEffects(factorialDesign(4), y).effects.map((e) => e.estimate),
  },
  {
    name: 'lenth',
    against: 'the published formula with NumPy medians and scipy.stats.t',
    tolerance: 1e-10,
    draw: (r) => [r.list(r.whole(7, 31), () => r.normal() * (r.uniform() < 0.2 ? 8 : 1))],
    ours: (effects: number[]) => {
      const { s0, pse, marginOfError, simultaneousMargin } = lenth(effects)
      return [s0, pse, marginOfError, simultaneousMargin]
    },
  },
  {
    name: 'funnelPlot',
    against: 'the published formulas with scipy.stats.binom and poisson',
    tolerance: 1e-8,
    floor: 1e-6,
    draw: (r) => {
      const sizes = r.list(r.whole(5, 20), () => r.whole(20, 800))
      return [sizes.map((n) => Math.min(n, r.whole(1, 2 + Math.ceil(n / 8)))), sizes, r.whole(0, 1)]
    },
    ours: (events: number[], sizes: number[], kind: number) => {
      const units = events.map((numerator, i) => ({ numerator, denominator: sizes[i]! }))
      const options = { kind: kind === 0 ? 'proportion' : 'rate' } as const
      const plain = funnelPlot(units, options)
      const limits = plain.points[0]!.limits
      const wide = funnelPlot(units, { ...options, widening: 'additive' })
      return [
        plain.phi,
        plain.tauSquared,
        limits[0]!.lower,
        limits[0]!.upper,
        limits[1]!.lower,
        limits[1]!.upper,
        wide.points[0]!.zUsed,
      ]
    },
  },
  {
    name: 'riskAdjustedCusum',
    against: 'the published recursion in NumPy',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => {
      const n = r.whole(5, 60)
      return [
        r.list(n, () => (r.uniform() < 0.2 ? 1 : 0)),
        r.list(n, () => r.between(0.01, 0.6)),
        r.uniform() < 0.5 ? 2 : 0.5,
      ]
    },
    ours: (events: number[], risks: number[], oddsRatio: number) =>
      riskAdjustedCusum(events, risks, { oddsRatio }).path,
  },
  {
    name: 'bernoulliCusumRunLength',
    against: 'the whole chain solved by numpy.linalg.solve',
    tolerance: 1e-8,
    draw: (r) => {
      const step = r.whole(1, 20)
      return [step, r.whole(2, 6 + 2 * step), r.spread(0.15, 0.6)]
    },
    ours: (step: number, limit: number, p: number) => bernoulliCusumRunLength(step, limit, p),
  },
]
