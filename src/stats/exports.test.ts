import { expect, it } from 'vitest'
import { AppError } from '../errors.ts'
import * as stats from './index.ts'

const labels = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))
const list = (n: number, each: (i: number) => number = (i) => 10 + ((i * 7) % 11)) =>
  Array.from({ length: n }, (_, i) => each(i))
const values = list(24)
const column = Float64Array.from(values)
const ones = new Uint8Array(24).fill(1)
const zones = new Uint8Array(24).fill(1)
const rules = stats.RULE_SETS['zone-tests'].pointRules
const ruleSet = stats.RULE_SETS['zone-tests']
const borders = { center: 15, sigma: 3, lower: 6, upper: 24 }
const chart = stats.individualsColumn(column, ruleSet)
const groups = list(14).map((x) => [x, x + 1, x + 3])
const risks = list(20, (i) => 0.05 + i / 50)
const events = list(20, (i) => (i % 6 === 0 ? 1 : 0))
const rates = list(24, (i) => 40 + (i % 5))

/** One sound call of every function; each number in it is then spoilt in turn. */
const SOUND: Readonly<Record<string, readonly unknown[]>> = {
  analyze: [
    { at: labels(24), values },
    { kind: 'individuals', per: 1, target: 15, sigma: 3, lambda: 0.2, L: 3, k: 0.5, h: 5 },
  ],
  andersonDarling: [values],
  autocorrelation: [values, 3],
  averageRunLength: [rules, 0.5],
  bernoulliCusum: [events, { p0: 0.05, p1: 0.1, limit: 3 }],
  bernoulliCusumRunLength: [9, 15, 0.05, 0],
  bernoulliScores: [0.05, 0.1],
  binomialFunnelLimit: [100, 0.05, 0.025],
  blandAltman: [values, values.map((x, i) => x + (i % 3)), { multiplier: 2, level: 0.95 }],
  boundedRuns: [12, 5, 'known'],
  calibration: [
    [
      { low: 1, high: 3, confidence: 0.8, outcome: 2, expected: 2 },
      { low: 1, high: 3, confidence: 0.8, outcome: 5, expected: 2 },
    ],
    0.95,
  ],
  capability: [{ mean: 10, sigma: 1, n: 30 }, { lower: 6, upper: 14 }, 0.95],
  chanceOfSignal: [rules, 24, 0.5],
  changePoint: [values, { model: 'poisson', level: 0.95 }],
  chartConstants: [5],
  chooseChart: ['classified'],
  clopperPearsonInterval: [7, 20, 0.95],
  cohenKappa: [
    [
      [20, 5],
      [10, 15],
    ],
    { level: 0.95 },
  ],
  columnSignals: [column, chart, ruleSet, 0, 24],
  countLimits: [16],
  crossingsLimit: [24],
  cumulativeSums: [column, 15, 0.5],
  cusumRunLength: [0.5, 4, 0.5],
  cusumSignalChances: [0.5, 4, 20, 0.5],
  denominatorForSignal: ['zone-tests', { kind: 'p', before: 0.2, after: 0.4 }, 6, 0.8],
  dispersionOf: [column, ones, 0, 24],
  durbinWatson: [values],
  effectColumn: [stats.factorialDesign(3), 'AB'],
  ewmaRunLength: [0.2, 3, 0.5],
  ewmaSignalChances: [0.2, 3, 20, 0.5],
  factorialDesign: [3, { longestAlias: 3 }],
  factorialEffects: [stats.factorialDesign(2), [3, 5, 4, 9], [5, 6]],
  falseRunSignal: [24, 8, 8, 'known'],
  falseSignalChance: [
    stats.analyze({ at: labels(24), values }, { kind: 'individuals' }),
    { budget: 2000, seed: 1 },
  ],
  funnelPlot: [
    [
      { numerator: 8, denominator: 100 },
      { numerator: 2, denominator: 90 },
    ],
    { target: 0.05, levels: [0.95], winsorize: 0.1, widening: 'additive' },
  ],
  geometricLimits: [20, 'probability'],
  guessChart: [{ at: labels(24), numerators: values, denominators: rates }, 1],
  halfNormalScores: [list(7)],
  hasSignal: [column, zones, ruleSet],
  individualsCenter: [column, ones, 0, 24],
  individualsColumn: [column, ruleSet, 0, 24],
  intervalScore: [20, 40, 45, 0.8],
  jointRuns: [12, 'median'],
  learningCurve: [[96, 71, 60, 54], { rounds: [1, 2, 3, 4], level: 0.95 }],
  learningCurveTime: [{ first: 90, exponent: { estimate: -0.3 } }, 5],
  lenth: [list(7), 0.05],
  linearModel: [{ one: list(24, () => 1), x: list(24, (i) => i) }, values, { lag: 2, level: 0.95 }],
  logAccuracyRatio: [10, 12],
  longestRunLimit: [24],
  meanAndSd: [values],
  meanDifference: [values, values.map((x) => x + 1), 0.95],
  meanMovingRange: [column, ones, 0, 24],
  medianOf: [column],
  nextBinomialCount: [7, 20, 10, 0.95],
  nextMeanInterval: [values, 3, 0.95],
  nextPoissonCount: [12, 100, 20, 0.95],
  nextValuesInterval: [values, 3, 0.95],
  observedMinusExpected: [events, risks],
  oneSidedCusumRunLength: [0.5, 4, 0.5, 2],
  oneSidedCusumSignalChances: [0.5, 4, 20, 0.5, 2],
  pairedDifference: [values, values.map((x, i) => x + (i % 3)), 0.95],
  pairedProportionDifference: [{ both: 5, firstOnly: 3, secondOnly: 1, neither: 8 }, 0.95],
  permutationDifference: [[1, 2, 4], [5, 6, 9], { level: 0.9, draws: 100, seed: 1 }],
  phaseSignals: [column, zones, ruleSet],
  phaseSpans: [labels(24), [{ at: '13' }]],
  poissonFunnelLimit: [5, 1, 0.975],
  poissonInterval: [12, 2, 0.95],
  powerForMeans: [20, 20, 0.5, 1, { alpha: 0.05 }],
  powerForProportions: [50, 50, 0.5, 0.75, 0.05],
  powerForRates: [100, 100, 0.1, 0.2, 0.05],
  proportionDifference: [7, 20, 3, 20, 0.95],
  proportionLimits: [0.3, 50],
  randomEffects: [[1, 3, 2], [1, 0.5, 2], { level: 0.9, degreesOfFreedom: [8, 9, 10] }],
  rateLimits: [0.3, 50],
  rateRatio: [18, 1200, 6, 1150, 0.95],
  riskAdjustedCusum: [events, risks, { oddsRatio: 2, limit: 3 }],
  riskAdjustedRunLength: [risks, { oddsRatio: 2, limit: 1, trueOddsRatio: 1, runs: 50, most: 500 }],
  riskAdjustedScores: [0.1, 2],
  ruleSetOf: ['zone-tests'],
  runCounts: [zones],
  runLengthDistribution: [rules, 10, 0.5],
  runOrder: [8, 1, 2],
  runsDistribution: [10, 12],
  runsLimits: [10, 12, 0.025],
  sampleSizeForMeans: [0.5, 1, { alpha: 0.05, power: 0.8, ratio: 1 }],
  sampleSizeForProportions: [0.5, 0.75, { alpha: 0.05, power: 0.8, ratio: 1 }],
  sampleSizeForRates: [0.1, 0.2, { alpha: 0.05, power: 0.8, ratio: 1 }],
  scanPoints: [column, zones, ruleSet],
  segmentedRegression: [values, [12], { lag: 2, period: 12, harmonics: 1 }],
  shapiroWilk: [values],
  sigmaZ: [column, ones, 0, 24],
  simulateSignals: [
    { kind: 'p', ruleSet: 'zone-tests', points: 20, center: 0.3, denominators: 40 },
    { charts: 50, seed: 1 },
  ],
  smallBinomialQuantile: [0.01, 40, 0.05],
  smallPoissonQuantile: [0.01, 3],
  subgroupColumns: [groups],
  subgroupFit: [stats.subgroupColumns(groups), ones, 0, 14, 's'],
  timeFromTransformed: [2],
  timeRatio: [values, values.map((x) => x + 1), 0.95],
  timeToCountSignal: [
    'zone-tests',
    { kind: 'u', before: 0.2, after: 0.4, denominators: [40, 50] },
    20,
  ],
  timeToSignal: ['zone-tests', 1, 40],
  transformedTime: [5],
  weightedAverage: [column, 15, 3, 0.2, 3],
  wilsonInterval: [7, 20, 0.95],
  zoneOf: [17, borders],
  zonesOf: [column, borders],
}

type Call = (...input: readonly unknown[]) => unknown
const functions = Object.entries(stats as unknown as Record<string, unknown>).filter(
  (entry): entry is [string, Call] => typeof entry[1] === 'function',
)

it('knows a sound call of every function that is given out', () => {
  expect(Object.keys(SOUND).sort()).toEqual(functions.map(([name]) => name).sort())
})

const BAD = [Number.NaN, Infinity, -Infinity, -1, 0, 0.5, 1.5, 1e-320, 1e9, 2 ** 53, 1e308, -1e308]

/** Every copy of a value with one of its numbers, or one of its lists, spoilt. */
function* spoilt(value: unknown): Generator<{ bad: unknown; where: string }> {
  if (typeof value === 'number') {
    for (const bad of BAD) yield { bad, where: `= ${bad}` }
  } else if (value instanceof Float64Array) {
    for (const bad of BAD) {
      const copy = value.slice()
      copy[2] = bad
      yield { bad: copy, where: `[2] = ${bad}` }
    }
    yield { bad: new Float64Array(0), where: 'empty' }
    yield { bad: value.slice(0, 1), where: 'one' }
    yield { bad: value.slice().fill(7), where: 'constant' }
  } else if (Array.isArray(value)) {
    yield { bad: [], where: 'empty' }
    yield { bad: value.slice(0, 1), where: 'one' }
    yield { bad: value.map(() => value[0]), where: 'all equal' }
    yield { bad: [...value].reverse(), where: 'reversed' }
    const place = Math.min(2, value.length - 1)
    if (place >= 0) {
      for (const { bad, where } of spoilt(value[place])) {
        yield { bad: value.with(place, bad), where: `[${place}]${where}` }
      }
    }
  } else if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    for (const [key, part] of Object.entries(value)) {
      for (const { bad, where } of spoilt(part)) {
        yield { bad: { ...value, [key]: bad }, where: `.${key} ${where}` }
      }
    }
  }
}

/** Single steps on columns, where NaN is a gap: it is the documented answer where nothing counts. */
const GAPS_STAY = new Set([
  'subgroupColumns',
  'medianOf',
  'subgroupFit',
  'meanMovingRange',
  'individualsCenter',
  'sigmaZ',
  'dispersionOf',
])
/** Arguments that are results of another function, not numbers of anybody's. */
const RESULTS = new Set([
  'effectColumn 0',
  'factorialEffects 0',
  'falseSignalChance 0',
  'columnSignals 1',
  'subgroupFit 0',
])

function nanIn(value: unknown): boolean {
  if (typeof value === 'number') return Number.isNaN(value)
  if (ArrayBuffer.isView(value) || Array.isArray(value)) {
    return Array.from(value as ArrayLike<unknown>).some(nanIn)
  }
  return typeof value === 'object' && value !== null && Object.values(value).some(nanIn)
}

it.each(functions)(
  '%s: a spoilt number gets a typed error or an answer, soon, without NaN',
  (name, call) => {
    const sound = SOUND[name]!
    expect(nanIn(call(...sound))).toBe(false)
    const wrong: string[] = []
    sound.forEach((argument, i) => {
      if (RESULTS.has(`${name} ${i}`)) return
      for (const { bad, where } of spoilt(argument)) {
        const start = performance.now()
        try {
          const answer = call(...sound.with(i, bad))
          if (!GAPS_STAY.has(name) && nanIn(answer)) wrong.push(`argument ${i}${where}: NaN`)
        } catch (error) {
          if (!(error instanceof AppError && error.code.startsWith('stats.'))) {
            wrong.push(`argument ${i}${where}: ${String(error)}`)
          } else if (error.hint === '') wrong.push(`argument ${i}${where}: no hint`)
        }
        const took = performance.now() - start
        if (took > 5000) wrong.push(`argument ${i}${where}: ${Math.round(took)} ms`)
      }
    })
    expect(wrong).toEqual([])
  },
  120_000,
)
