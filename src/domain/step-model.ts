import { studentTQuantile, studentTTails } from '../stats/special/student-t.ts'
import { type Whitened, whiten } from './step-whiten.ts'

/** A step from one stretch of points to the next, weighed over how alike neighbouring points may be. */
export interface Step {
  /** By plain weighted least squares, each point standing by itself. */
  readonly plain: number
  /** Half the width of the 95 % interval if each point stands by itself and spreads as chance has it. */
  readonly plainHalf: number
  /** 95 %, over all degrees of likeness by how well they fit. */
  readonly ends: () => Ends
  /** 95 % if each point stands by itself, however much more than chance they spread. */
  readonly endsIfAlone: () => Ends
  /** Chance that the step is above 0, over all degrees of likeness. */
  readonly above: number
  /** Correlation of neighbouring points, the mean over what fits. */
  readonly alike: number
  /** Chance that the points spread by chance alone and stand by themselves; 0 for measured values. */
  readonly onlyChance: number
}

interface Ends {
  readonly lower: number
  readonly upper: number
}

export interface StepOptions {
  /** A straight line through both stretches as well as the step. */
  readonly trend: boolean
  /** When each point was, in any unit, rising; left out: evenly spaced. */
  readonly times?: readonly number[] | undefined
  /** Columns that describe a season, each as long as the points; empty: none is fitted. */
  readonly season: readonly (readonly number[])[]
  /** `null` for measured values, whose spread is not known beforehand. */
  readonly chance: ChanceSpread | null
}

/** What is known of the spread that chance alone gives. */
export interface ChanceSpread {
  /** Variance of one point times its weight: ¼ on the root scales. */
  readonly variance: number
  /** How likely it is, before the data speak, that points spread by chance alone. */
  readonly likely: number
}

/**
 * How likely each correlation of neighbouring points is taken to be before the data speak. Nothing lies
 * between 0 and 0.5 on purpose: what is alike at 0.3 is a mixture of both, and the 95 % interval then
 * holds the truth about as often at 0 as at 0.3 and at 0.6 (docs/decisions/09 has the figures).
 */
const LIKENESS: readonly Chance[] = [
  { r: 0, chance: 4 / 9 },
  ...[0.5, 0.6, 0.7, 0.8, 0.9].map((r) => ({ r, chance: 1 / 9 })),
]
/** Counts that spread beyond chance: a level that moves by itself is as likely as each degree of likeness. */
const COUNT_LIKENESS: readonly Chance[] = [0, 0.5, 0.6, 0.7, 0.8, 0.9].map((r) => ({
  r,
  chance: 1 / 6,
}))
/** Of measured values all of the spread may be alike, or half of it. */
const SHARES = [1, 0.5]

/** Spread beyond chance is weighed from 1.5 times its variance on, in this many degrees. */
const LEAST_SPREAD = Math.log(1.5)
const SPREADS = 7

interface Chance {
  readonly r: number
  readonly chance: number
}

/** One set of assumptions: what the step is under it, and how well it fits. */
interface Part {
  /** Its logarithm, up to a constant, until they are made to sum to 1. */
  readonly weight: number
  readonly center: number
  readonly scale: number
  readonly df: number
  readonly alike: number
  readonly onlyChance: boolean
}

/**
 * The step between two stretches of one series, allowing for points that resemble their neighbours
 * (first-order autocorrelation), a straight drift and a season.
 *
 * For each correlation `r` the step is fitted by generalized least squares, t with `n − k` degrees of
 * freedom; the answers are mixed with the weight `p(r) |R|^−½ |X′R⁻¹X|^−½ RSS^−(n−k)/2`, a stated
 * prior times the restricted likelihood. Where chance gives a known spread, what is above it is an
 * autocorrelated level under independent counts, and the amount above it is mixed over too.
 *
 * @param y       In time order, on a scale where they spread alike.
 * @param weights Above 0, as long as `y`.
 * @param first   How many belong to the first stretch.
 * @returns `null` where there are too few points for the columns, or nothing varies.
 *
 * @see Patterson & Thompson (1971), Biometrika 58:545 for the restricted likelihood; Harville (1974),
 *   Biometrika 61:383 for its reading as a marginal posterior; Zellner & Tiao (1964), JASA 59:763 for
 *   regression with autocorrelated errors mixed over the correlation.
 */
export function stepBetween(
  y: readonly number[],
  weights: readonly number[],
  first: number,
  options: StepOptions,
): Step | null {
  if (first < 1 || first >= y.length) return null
  return coefficientOf((i) => (i >= first ? 1 : 0), y, weights, options)
}

/**
 * The slope per point of one stretch, by the same means as `stepBetween`.
 *
 * @returns `null` where there are too few points, or nothing varies.
 */
export function slopeOf(
  y: readonly number[],
  weights: readonly number[],
  options: StepOptions,
): Step | null {
  return coefficientOf((i) => i - (y.length - 1) / 2, y, weights, options)
}

function coefficientOf(
  shape: (i: number) => number,
  y: readonly number[],
  weights: readonly number[],
  { trend, times, season, chance }: StepOptions,
): Step | null {
  const n = y.length
  const roots = weights.map(Math.sqrt)
  const column = (value: (i: number) => number) => Float64Array.from(roots, (q, i) => q * value(i))
  const columns = [column(shape), column(() => 1)]
  if (trend) columns.push(column((i) => (times?.[i] ?? i / (n - 1)) - 0.5))
  for (const values of season) columns.push(column((i) => values[i]!))
  const free = n - columns.length
  if (free < 2) return null
  // Taking the level off first keeps the sums small; a constant column is in the model.
  const level = y.reduce((sum, v, i) => sum + v * weights[i]!, 0) / sumOf(weights)
  columns.push(column((i) => y[i]! - level))
  const plain = whiten(columns, 0, 1)
  if (plain === null) return null
  const size = y.reduce((sum, v, i) => sum + weights[i]! * v * v, 0)
  if (plain.rest <= 1e-18 * size && chance === null) return null

  const every =
    chance === null ? valueParts(columns, free) : countParts(columns, free, chance, plain)
  const parts = normalized(every)
  const variance = chance === null ? plain.rest / free : chance.variance
  const t = -studentTQuantile(0.025, chance === null ? free : Infinity)
  return {
    plain: plain.estimate,
    plainHalf: t * Math.sqrt(variance * plain.variance),
    ends: () => endsOf(parts),
    endsIfAlone: () => endsOf(normalized(every.filter(({ alike }) => alike === 0))),
    above: above(parts, 0),
    alike: parts.reduce((sum, part) => sum + part.weight * part.alike, 0),
    onlyChance: parts.find((part) => part.onlyChance)?.weight ?? 0,
  }
}

/** Measured values: the spread is not known. */
function valueParts(columns: readonly Float64Array[], free: number): Part[] {
  const parts: Part[] = []
  for (const { r, chance } of LIKENESS) {
    const shares = r === 0 ? [1] : SHARES
    for (const share of shares) {
      const fit = whiten(columns, r, share)
      if (fit === null) continue
      parts.push({
        weight: Math.log(chance / shares.length) - fit.logDet / 2 - (free / 2) * Math.log(fit.rest),
        center: fit.estimate,
        scale: Math.sqrt((fit.rest / free) * fit.variance),
        df: free,
        alike: r * share,
        onlyChance: false,
      })
    }
  }
  return parts
}

/** Counts: chance gives every point a known spread that is not alike; the level beneath may move. */
function countParts(
  columns: readonly Float64Array[],
  free: number,
  { variance, likely }: ChanceSpread,
  plain: Whitened,
): Part[] {
  const parts: Part[] = []
  const add = (prior: number, spread: number, alike: number, fit: Whitened) =>
    parts.push({
      weight:
        Math.log(prior) -
        fit.logDet / 2 -
        (free / 2) * Math.log(spread) -
        fit.rest / (2 * spread * variance),
      center: fit.estimate,
      scale: Math.sqrt(spread * variance * fit.variance),
      df: Infinity,
      alike,
      onlyChance: spread === 1,
    })
  add(likely, 1, 0, plain)
  // Degrees of spread on logs, over all that the residuals may come from; half-Cauchy on logs.
  const seen = Math.log(plain.rest / free / variance)
  const reach = Math.sqrt(2 / free)
  const low = Math.max(LEAST_SPREAD, seen - 4 * reach)
  const width = (Math.max(low, seen) + 5 * reach - low) / SPREADS
  for (let j = 0; j < SPREADS; j++) {
    const log = low + (j + 0.5) * width
    const prior = ((1 - likely) * width * 2) / (Math.PI * (1 + log * log))
    const spread = Math.exp(log)
    for (const { r, chance } of COUNT_LIKENESS) {
      const share = r === 0 ? 0 : 1 - 1 / spread
      const fit = r === 0 ? plain : whiten(columns, r, share)
      if (fit !== null) add(prior * chance, spread, r * share, fit)
    }
  }
  return parts
}

/** Log weights to weights that sum to 1; what does not count is left out. */
function normalized(parts: readonly Part[]): Part[] {
  const top = Math.max(...parts.map(({ weight }) => weight))
  const scaled = parts.map((part) => ({ ...part, weight: Math.exp(part.weight - top) }))
  const total = sumOf(scaled.map(({ weight }) => weight))
  return scaled
    .map((part) => ({ ...part, weight: part.weight / total }))
    .filter(({ weight }) => weight > 1e-7)
}

function above(parts: readonly Part[], x: number): number {
  return parts.reduce(
    (sum, { weight, center, scale, df }) =>
      sum + weight * studentTTails((x - center) / scale, df).upper,
    0,
  )
}

const endsOf = (parts: readonly Part[]): Ends => ({
  lower: quantile(parts, 0.975),
  upper: quantile(parts, 0.025),
})

/** The value above which the step lies with this chance: regula falsi (Illinois) between the parts' own. */
function quantile(parts: readonly Part[], chance: number): number {
  const t = -studentTQuantile(chance, parts[0]!.df)
  const own = parts.map(({ center, scale }) => center + t * scale)
  let low = Math.min(...own)
  let high = Math.max(...own)
  const close = 1e-9 * Math.max(...parts.map(({ scale }) => scale))
  let atLow = above(parts, low) - chance
  let atHigh = above(parts, high) - chance
  let side = 0
  for (let i = 0; i < 60 && high - low > close && atLow > 0 && atHigh < 0; i++) {
    const x = (low * atHigh - high * atLow) / (atHigh - atLow)
    const at = above(parts, x) - chance
    if (Math.abs(at) < 1e-9) return x
    if (at > 0) {
      low = x
      atLow = at
      if (side === 1) atHigh /= 2
      side = 1
    } else {
      high = x
      atHigh = at
      if (side === -1) atLow /= 2
      side = -1
    }
  }
  return atLow <= 0 ? low : atHigh >= 0 ? high : (low + high) / 2
}

const sumOf = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0)
