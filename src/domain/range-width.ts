import { calibration } from '../stats/calibration.ts'
import { intervalScore } from '../stats/interval-score.ts'
import type { JudgedPrediction } from './judged-predictions.ts'

/** Below this many ranges nothing is said of their width (common practice). */
const FEWEST_RANGES = 10

type Range = Pick<JudgedPrediction, 'low' | 'expected' | 'high' | 'outcome' | 'confidence'>

/** Which width of the ranges the outcomes call for. */
export type RangeWidth =
  | { readonly kind: 'too-few'; readonly n: number }
  | {
      /** `open`: the outcomes do not clearly call for another width. */
      readonly kind: 'wider' | 'narrower' | 'open'
      readonly n: number
      /** Widths would have had to be this many times as large for the lowest interval score. */
      readonly factor: number
      /** Share of the score that this would have saved, each prediction at a width fitted to the others. */
      readonly saved: number
    }

/**
 * How wide the ranges should have been: the one factor, about the same expected values, that would
 * have given the lowest mean interval score, and whether it would clearly have been lower.
 *
 * Each score is divided by the width of its own range, so no unit matters and every prediction counts
 * the same. A best factor flatters itself, so what it saves is worked out for each prediction with the
 * factor that is best for all the others. Another width is called for only where the 95 % interval of
 * the share inside (Wilson) leaves the stated confidence out, as in the advice on the same figures.
 *
 * @param predictions In any order; those without a width, or with the expected value at the very end
 *   that the outcome passed, cannot be stretched and are left out.
 * @see Gneiting & Raftery (2007), JASA 102:359, eq. 43, for the score; the factor is its minimum.
 *
 * @example
 * rangeWidth([]) // => { kind: 'too-few', n: 0 }
 */
export function rangeWidth(predictions: readonly Range[]): RangeWidth {
  const ranges = predictions.filter(isStretchable).map(missOf)
  const n = ranges.length
  if (n < FEWEST_RANGES) return { kind: 'too-few', n }
  const sorted = ranges.toSorted((a, b) => b.at - a.at)
  const factor = bestFactor(sorted, null)
  let stated = 0
  let fitted = 0
  for (const miss of sorted) {
    stated += scoreAt(miss, 1)
    fitted += scoreAt(miss, bestFactor(sorted, miss))
  }
  const saved = 1 - fitted / stated
  const held = calibration(ranges.map(({ range }) => range))
  const wider = held.share.upper < held.stated && factor > 1
  const narrower = held.share.lower > held.stated && factor < 1
  const kind = saved <= 0 ? 'open' : wider ? 'wider' : narrower ? 'narrower' : 'open'
  return { kind, n, factor, saved }
}

interface Miss {
  readonly range: Range
  /** Factor from which on the stretched range holds the outcome. */
  readonly at: number
  /** Score lost, in widths, for each unit of factor that is missing. */
  readonly slope: number
}

const sideOf = ({ low, expected, high, outcome }: Range) =>
  outcome > expected ? high - expected : expected - low

const isStretchable = (range: Range) => range.high > range.low && sideOf(range) > 0

function missOf(range: Range): Miss {
  const { low, expected, high, outcome, confidence } = range
  const side = sideOf(range)
  return {
    range,
    at: Math.abs(outcome - expected) / side,
    slope: ((2 / (1 - confidence)) * side) / (high - low),
  }
}

/** The interval score of a range stretched about its expected value, in widths of the stated range. */
function scoreAt({ range }: Miss, factor: number): number {
  const { low, expected, high, outcome, confidence } = range
  const stretched = (end: number) => expected + factor * (end - expected)
  return intervalScore(stretched(low), stretched(high), outcome, confidence) / (high - low)
}

/**
 * The score rises by 1 a prediction with the factor and falls with those that still miss: the best
 * factor is the smallest at which the latter no longer outweigh the former.
 *
 * @param sorted Farthest miss first.
 * @param without One to leave out.
 */
function bestFactor(sorted: readonly Miss[], without: Miss | null): number {
  const n = sorted.length - (without === null ? 0 : 1)
  let fall = 0
  for (const miss of sorted) {
    if (miss === without) continue
    fall += miss.slope
    if (fall > n) return miss.at
  }
  return 0
}

/** The finding as text; made from its figures. */
export function rangeWidthText(found: RangeWidth): string {
  if (found.kind === 'too-few')
    return `Too few to tell whether wider or narrower ranges would have done better: that takes ${FEWEST_RANGES}.`
  const { kind, factor, saved } = found
  const score = `the interval score would have been ${Math.round(saved * 100)} % lower`
  switch (kind) {
    case 'wider':
      return `The misses cost more than the narrow ranges saved. About ${timesText(factor)} as wide around the same expected values, ${score}.`
    case 'narrower':
      return `The ranges were wider than the outcomes call for. About ${timesText(factor)} as wide around the same expected values, ${score}.`
    case 'open':
      return 'The outcomes do not clearly call for wider or narrower ranges.'
  }
}

function timesText(factor: number): string {
  if (factor < 0.25) return 'a quarter or less'
  if (factor >= 10) return '10 times or more'
  return `${Number(factor.toFixed(1))} times`
}
