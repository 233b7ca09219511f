import {
  chartConstants,
  meanDeviationFactor,
  meanRangeFactor,
} from '../../src/stats/chart-constants.ts'
import { weightedAverage } from '../../src/stats/cumulative.ts'
import { cusumRunLength, ewmaRunLength } from '../../src/stats/cumulative-run-length.ts'
import { individualsCenter } from '../../src/stats/individuals-limits.ts'
import { falseRunSignal } from '../../src/stats/joint-runs.ts'
import { dispersionOf } from '../../src/stats/laney.ts'
import { geometricLimits } from '../../src/stats/rare-limits.ts'
import { chanceOfSignal } from '../../src/stats/run-length.ts'
import {
  crossingsLimit,
  longestRunLimit,
  runsDistribution,
} from '../../src/stats/runs-distribution.ts'
import {
  smallBinomialQuantile,
  smallPoissonQuantile,
} from '../../src/stats/small-count-quantiles.ts'
import type { Case, Draw } from './case.ts'

const counted = (n: number) => new Uint8Array(n).fill(1)
const tail = (r: Draw) => (r.uniform() < 0.5 ? 0.99865 : r.between(0.01, 0.999))

export const chartCases: readonly Case[] = [
  {
    name: 'smallBinomialQuantile',
    against: 'scipy.stats.binom.ppf',
    tolerance: 0,
    draw: (r) => {
      const n = r.whole(1, 2000)
      return [tail(r), n, Math.min(1, r.between(0, 5) / n)]
    },
    ours: smallBinomialQuantile,
  },
  {
    name: 'smallPoissonQuantile',
    against: 'scipy.stats.poisson.ppf',
    tolerance: 0,
    draw: (r) => [tail(r), r.spread(1e-3, 20)],
    ours: smallPoissonQuantile,
  },
  {
    name: 'geometricLimits',
    against: 'scipy.stats.geom.ppf',
    tolerance: 0,
    draw: (r) => [r.spread(0.05, 1e4)],
    ours: (mean: number) => geometricLimits(mean, 'probability').upper,
  },
  {
    name: 'meanDeviationFactor',
    against: 'scipy.special.gammaln',
    tolerance: 1e-10,
    draw: (r) => [r.whole(2, 1000)],
    ours: meanDeviationFactor,
  },
  {
    name: 'meanRangeFactor',
    against: 'scipy.integrate.quad',
    tolerance: 1e-10,
    draw: (r) => [r.whole(2, 1000)],
    ours: meanRangeFactor,
  },
  {
    name: 'rangeConstants',
    against: 'NumPy, distribution of the range',
    tolerance: 1e-6,
    draw: (r) => [r.whole(2, 30)],
    ours: (n: number) => [chartConstants(n).d2, chartConstants(n).d3],
  },
  {
    name: 'runsDistribution',
    against: 'Python integers',
    tolerance: 1e-10,
    draw: (r) => {
      const above = r.whole(1, 60)
      const below = r.whole(1, 60)
      return [above, below, r.whole(2, 2 * Math.min(above, below) + 1)]
    },
    ours: (above: number, below: number, runs: number) =>
      runsDistribution(above, below)
        .slice(0, runs + 1)
        .reduce((sum, p) => sum + p, 0),
  },
  {
    name: 'falseRunSignal',
    against: 'NumPy, step by step',
    tolerance: 1e-10,
    draw: (r) => {
      const n = r.whole(10, 120)
      return [n, longestRunLimit(n), crossingsLimit(n)]
    },
    ours: (n: number, longest: number, crossings: number) =>
      falseRunSignal(n, longest, crossings, 'known'),
  },
  {
    name: 'individualsCenter',
    against: 'NumPy',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [r.list(r.whole(2, 60), () => 50 + 9 * r.normal())],
    ours: (values: number[]) => {
      const { center, sigma } = individualsCenter(Float64Array.from(values), counted(values.length))
      return [center, sigma]
    },
  },
  {
    name: 'weightedAverage',
    against: 'scipy.signal.lfilter',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [r.list(r.whole(1, 60), () => r.normal()), r.between(0.02, 1)],
    ours: (values: number[], lambda: number) => {
      const { average, upper } = weightedAverage(Float64Array.from(values), 0, 1, lambda, 3)
      return [average.at(-1)!, upper.at(-1)!]
    },
  },
  {
    name: 'sideRule',
    against: 'NumPy, step by step',
    tolerance: 1e-10,
    floor: 1e-3,
    draw: (r) => [r.whole(3, 12), r.whole(1, 80), r.between(-2, 2)],
    ours: (length: number, n: number, shift: number) =>
      chanceOfSignal([{ slug: 'shift', shape: 'side', length }], n, shift),
  },
  {
    name: 'ewmaRunLength',
    against: 'NumPy, 90 nodes',
    tolerance: 1e-6,
    draw: (r) => [r.between(0.1, 1), r.between(2, 3.1), r.between(0, 3)],
    ours: ewmaRunLength,
  },
  {
    name: 'cusumRunLength',
    against: 'NumPy, 64 nodes',
    tolerance: 1e-6,
    draw: (r) => [r.between(0.2, 1.2), r.between(1.5, 6), r.between(0, 3)],
    ours: cusumRunLength,
  },
  {
    name: 'dispersionOf',
    against: 'scipy.stats.chi2',
    tolerance: 1e-10,
    draw: (r) => {
      const scale = r.between(0.5, 2.5)
      return [r.list(r.whole(3, 60), () => scale * r.normal())]
    },
    ours: (z: number[]) => {
      const found = dispersionOf(Float64Array.from(z), counted(z.length), 0, z.length)
      return [found.sigmaZ, found.pOver, found.pUnder]
    },
  },
]
