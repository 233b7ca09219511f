import { betaLogitQuantile, betaTails } from '../../src/stats/special/beta.ts'
import {
  binomialLogPmf,
  binomialQuantile,
  binomialTails,
} from '../../src/stats/special/binomial.ts'
import { chiSquareQuantile, chiSquareTails } from '../../src/stats/special/chi-square.ts'
import { fQuantile, fTails } from '../../src/stats/special/f-distribution.ts'
import { gammaQuantile, gammaTails } from '../../src/stats/special/gamma.ts'
import {
  geometricLogPmf,
  geometricQuantile,
  geometricTails,
} from '../../src/stats/special/geometric.ts'
import {
  hypergeometricLogPmf,
  hypergeometricQuantile,
  hypergeometricTails,
} from '../../src/stats/special/hypergeometric.ts'
import { logBeta, logGamma } from '../../src/stats/special/log-gamma.ts'
import {
  negativeBinomialLogPmf,
  negativeBinomialQuantile,
  negativeBinomialTails,
} from '../../src/stats/special/negative-binomial.ts'
import { noncentralTTails } from '../../src/stats/special/noncentral-t.ts'
import {
  erf,
  erfc,
  normalCdf,
  normalLogCdf,
  normalLogQuantile,
  normalQuantile,
} from '../../src/stats/special/normal.ts'
import type { Tails } from '../../src/stats/special/numeric.ts'
import { poissonLogPmf, poissonQuantile, poissonTails } from '../../src/stats/special/poisson.ts'
import { studentTQuantile, studentTTails } from '../../src/stats/special/student-t.ts'
import type { Case, Draw } from './case.ts'

const logs = (tails: Tails) => [tails.logLower, tails.logUpper]
/** A small tail probability, or a plain one. */
const tail = (r: Draw) => (r.uniform() < 0.5 ? r.spread(1e-290, 0.4) : r.between(0.001, 0.999))

export const distributionCases: readonly Case[] = [
  {
    name: 'logGamma',
    against: 'scipy.special.gammaln',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [r.uniform() < 0.3 ? r.between(0.3, 3) : r.spread(1e-6, 1e9)],
    ours: logGamma,
  },
  {
    name: 'logBeta',
    against: 'scipy.special.betaln',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => [r.spread(0.01, 3000), r.spread(0.01, 3000)],
    ours: logBeta,
  },
  {
    name: 'erf',
    against: 'scipy.special.erf',
    tolerance: 1e-10,
    draw: (r) => [r.between(-6, 6)],
    ours: erf,
  },
  {
    name: 'erfc',
    against: 'scipy.special.erfc',
    tolerance: 1e-10,
    draw: (r) => [r.between(-6, 26)],
    ours: erfc,
  },
  {
    name: 'normalCdf',
    against: 'scipy.special.ndtr',
    tolerance: 1e-10,
    draw: (r) => [r.between(-37, 9)],
    ours: normalCdf,
  },
  {
    name: 'normalLogCdf',
    against: 'scipy.special.log_ndtr',
    tolerance: 1e-10,
    draw: (r) => [r.uniform() < 0.5 ? r.between(-1000, 0) : r.between(-40, 10)],
    ours: normalLogCdf,
  },
  {
    name: 'normalQuantile',
    against: 'scipy.special.ndtri',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [tail(r)],
    ours: normalQuantile,
  },
  {
    name: 'normalLogQuantile',
    against: 'scipy.special.ndtri_exp',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [-r.spread(1e-10, 1e8)],
    ours: normalLogQuantile,
  },
  {
    name: 'gammaLogTails',
    against: 'log of scipy.special.gammainc, gammaincc',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const a = r.spread(0.05, 1e4)
      return [a, a * Math.exp(r.between(-1, 1) * Math.min(3, 30 / Math.sqrt(a)))]
    },
    ours: (a: number, x: number) => logs(gammaTails(a, x)),
  },
  {
    name: 'gammaQuantile',
    against: 'scipy.special.gammaincinv, gammainccinv',
    tolerance: 1e-6,
    draw: (r) => [
      r.spread(0.3, 1e4),
      r.uniform() < 0.5 ? r.spread(1e-100, 0.4) : r.between(0.001, 0.999),
    ],
    ours: (a: number, p: number) => [
      gammaQuantile(a, Math.log(p), true),
      gammaQuantile(a, Math.log(p), false),
    ],
  },
  {
    name: 'betaLogTails',
    against: 'log of scipy.stats.beta.cdf, sf (Boost)',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const a = r.spread(0.2, 3000)
      const b = r.spread(0.2, 3000)
      const width = Math.min(3, 20 * Math.sqrt(1 / a + 1 / b))
      return [a, b, 1 / (1 + Math.exp(-(Math.log(a / b) + r.between(-width, width))))]
    },
    ours: (a: number, b: number, x: number) => logs(betaTails(a, b, x)),
  },
  {
    name: 'betaQuantileRoundTrip',
    against: 'scipy.stats.beta.cdf (Boost) of our quantile',
    tolerance: 1e-10,
    draw: (r) => {
      const a = r.spread(0.5, 3000)
      const b = r.spread(0.5, 3000)
      const p = r.spread(1e-100, 0.5)
      return [a, b, 1 / (1 + Math.exp(-betaLogitQuantile(a, b, Math.log(p), true))), p]
    },
    ours: (_a: number, _b: number, _x: number, p: number) => p,
  },
  {
    name: 'studentTLogCdf',
    against: 'log of scipy.stats.beta.cdf (Boost)',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => [-r.spread(1e-3, 1e4), r.spread(0.7, 1e4)],
    ours: (t: number, df: number) => studentTTails(t, df).logLower,
  },
  {
    name: 'studentTQuantile',
    against: 'scipy.stats.beta.ppf, isf (Boost)',
    tolerance: 1e-10,
    draw: (r) => [r.spread(1e-12, 0.499), r.spread(1, 1e4)],
    ours: studentTQuantile,
  },
  {
    name: 'chiSquareLogTails',
    against: 'log of scipy.stats.chi2.cdf, sf',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const df = r.whole(1, 500)
      return [df * r.spread(0.05, 3), df]
    },
    ours: (x: number, df: number) => logs(chiSquareTails(x, df)),
  },
  {
    name: 'chiSquareQuantile',
    against: 'scipy.stats.chi2.ppf, isf',
    tolerance: 1e-6,
    draw: (r) => [r.spread(1e-12, 0.999), r.whole(1, 2000)],
    ours: (p: number, df: number) => [chiSquareQuantile(p, df), chiSquareQuantile(p, df, false)],
  },
  {
    name: 'fLogTails',
    against: 'log of scipy.stats.beta (Boost) at the transformed argument',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => [r.spread(0.05, 20), r.whole(1, 200), r.whole(1, 200)],
    ours: (x: number, a: number, b: number) => logs(fTails(x, a, b)),
  },
  {
    name: 'fQuantile',
    against: 'scipy.stats.f.ppf, isf',
    tolerance: 1e-6,
    draw: (r) => [r.between(0.001, 0.999), r.whole(1, 200), r.whole(1, 200)],
    ours: (p: number, a: number, b: number) => [fQuantile(p, a, b), fQuantile(p, a, b, false)],
  },
  {
    name: 'noncentralTTails',
    against: 'scipy.stats.nct.cdf, sf',
    tolerance: 1e-6,
    floor: 1e-4,
    draw: (r) => [r.between(-4, 8), r.whole(2, 200), r.between(-1, 6)],
    ours: (t: number, df: number, delta: number) => {
      const { lower, upper } = noncentralTTails(t, df, delta)
      return [lower, upper]
    },
  },
  {
    name: 'binomialLogPmf',
    against: 'scipy.stats.binom.logpmf',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const n = r.whole(1, 2000)
      return [r.whole(0, n), n, r.between(0.001, 0.999)]
    },
    ours: binomialLogPmf,
  },
  {
    name: 'binomialLogTails',
    against: 'scipy.special.logsumexp of the terms',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const n = r.whole(1, 3000)
      return [r.whole(0, n - 1), n, r.between(0.001, 0.999)]
    },
    ours: (k: number, n: number, p: number) => logs(binomialTails(k, n, p)),
  },
  {
    name: 'binomialQuantile',
    against: 'scipy.stats.binom.ppf',
    tolerance: 0,
    draw: (r) => [r.between(0.0001, 0.9999), r.whole(1, 5000), r.between(0.0001, 0.9999)],
    ours: binomialQuantile,
  },
  {
    name: 'poissonLogPmf',
    against: 'scipy.stats.poisson.logpmf',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const mean = r.spread(0.01, 5000)
      return [r.whole(0, Math.ceil(2 * mean) + 10), mean]
    },
    ours: poissonLogPmf,
  },
  {
    name: 'poissonLogTails',
    against: 'log of scipy.stats.poisson.cdf, sf',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => {
      const mean = r.spread(0.01, 5000)
      return [r.whole(0, Math.ceil(2 * mean) + 10), mean]
    },
    ours: (k: number, mean: number) => logs(poissonTails(k, mean)),
  },
  {
    name: 'poissonQuantile',
    against: 'scipy.stats.poisson.ppf',
    tolerance: 0,
    draw: (r) => [r.between(0.0001, 0.9999), r.spread(0.01, 20000)],
    ours: poissonQuantile,
  },
  {
    name: 'negativeBinomialLogPmf',
    against: 'scipy.stats.nbinom.logpmf',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => [r.whole(0, 400), r.spread(0.2, 200), r.between(0.01, 0.99)],
    ours: negativeBinomialLogPmf,
  },
  {
    name: 'negativeBinomialLogTails',
    against: 'scipy.special.logsumexp of the terms',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => [r.whole(0, 400), r.spread(0.2, 200), r.between(0.01, 0.99)],
    ours: (k: number, size: number, p: number) => logs(negativeBinomialTails(k, size, p)),
  },
  {
    name: 'negativeBinomialQuantile',
    against: 'scipy.stats.nbinom.ppf',
    tolerance: 0,
    draw: (r) => [r.between(0.0001, 0.9999), r.spread(0.2, 200), r.between(0.01, 0.99)],
    ours: negativeBinomialQuantile,
  },
  {
    name: 'geometric',
    against: 'scipy.stats.geom, shifted to failures',
    tolerance: 1e-10,
    draw: (r) => [r.whole(0, 300), r.spread(1e-4, 0.99), r.between(0.001, 0.999)],
    ours: (k: number, p: number, q: number) => [
      geometricLogPmf(k, p),
      geometricTails(k, p).logUpper,
      geometricQuantile(q, p),
    ],
  },
  {
    name: 'hypergeometricLogPmf',
    against: 'scipy.stats.hypergeom.logpmf',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => hypergeometricDraw(r),
    ours: (k: number, m: number, u: number, d: number) => hypergeometricLogPmf(k, m, u, d),
  },
  {
    name: 'hypergeometricTails',
    against: 'whole-number sums with math.comb',
    tolerance: 1e-10,
    floor: 1,
    draw: (r) => hypergeometricDraw(r),
    ours: (k: number, m: number, u: number, d: number) => {
      const { logLower, logUpper } = hypergeometricTails(k, m, u, d)
      return [logLower, Math.max(logUpper, -1e9)]
    },
  },
  {
    name: 'hypergeometricQuantile',
    against: 'whole-number sums with math.comb',
    tolerance: 0,
    draw: (r) => {
      const [, m, u, d] = hypergeometricDraw(r)
      return [r.between(0.001, 0.999), m!, u!, d!]
    },
    ours: hypergeometricQuantile,
  },
]

function hypergeometricDraw(r: Draw): number[] {
  const marked = r.whole(1, 200)
  const unmarked = r.whole(1, 200)
  const drawn = r.whole(1, marked + unmarked - 1)
  const low = Math.max(0, drawn - unmarked)
  const high = Math.min(marked, drawn)
  return [r.whole(low, high), marked, unmarked, drawn]
}
