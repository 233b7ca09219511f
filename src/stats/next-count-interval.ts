import { AppError } from '../errors.ts'
import { binomialTails } from './special/binomial.ts'
import { requireFraction, requireLevel, requireNumber } from './special/check.ts'
import { hypergeometricTails } from './special/hypergeometric.ts'
import { firstWhere } from './special/quantile-search.ts'

/** The range of whole counts to expect next, were nothing to change. */
export interface CountRange {
  /** What the baseline rate would give. */
  readonly expected: number
  readonly lower: number
  readonly upper: number
  readonly level: number
}

/**
 * Range for the next count of events in a given area, from a Poisson baseline.
 *
 * The counts y not rejected by the exact conditional test of equal rates: given the total, the
 * baseline count is binomial with share `area / (area + nextArea)`.
 *
 * @param count    Events in the baseline, whole.
 * @param area     Its area, above 0.
 * @param nextArea Area of what comes next, above 0, in the same unit.
 * @param level    Chance that the next count falls inside, at least; default 0.95.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Faulkenberry (1973), J Am Stat Assoc 68:433; Hahn & Meeker (1991), Statistical Intervals, 7.6.
 *
 * @example
 * nextPoissonCount(20, 10, 5) // => { expected: 10, lower: 3, upper: 19, level: 0.95 }
 */
export function nextPoissonCount(
  count: number,
  area: number,
  nextArea: number,
  level = 0.95,
): CountRange {
  requireNumber('The count', count, 'a whole count')
  requireNumber('The area', area, 'positive')
  requireNumber('The next area', nextArea, 'positive')
  requireLevel(level)
  const share = area / (area + nextArea)
  const expected = (count / area) * nextArea
  return countRange(expected, Infinity, level, (y) => {
    const total = count + y
    return {
      atMost: binomialTails(count, total, share).lower,
      atLeast: binomialTails(count - 1, total, share).upper,
    }
  })
}

/**
 * Range for the next count with the feature among a given number, from a binomial baseline.
 *
 * The counts y not rejected by the exact conditional test of equal proportions: given the total, the
 * baseline count is hypergeometric.
 *
 * @param numerator       Baseline count with the feature, whole.
 * @param denominator     Baseline count looked at, at least 1.
 * @param nextDenominator How many will be looked at next, whole, at least 1.
 * @param level           Chance that the next count falls inside, at least; default 0.95.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.numerator_over_denominator`.
 *
 * @see Thatcher (1964), J R Stat Soc B 26:176; Hahn & Meeker (1991), Statistical Intervals, 6.7.
 *
 * @example
 * nextBinomialCount(0, 20, 5).lower // => 0
 */
export function nextBinomialCount(
  numerator: number,
  denominator: number,
  nextDenominator: number,
  level = 0.95,
): CountRange {
  requireFraction(numerator, denominator)
  requireFraction(0, nextDenominator)
  requireLevel(level)
  const expected = (numerator / denominator) * nextDenominator
  const all = denominator + nextDenominator
  return countRange(expected, nextDenominator, level, (y) => {
    const marked = numerator + y
    return {
      atMost: hypergeometricTails(numerator, marked, all - marked, denominator).lower,
      atLeast: hypergeometricTails(numerator - 1, marked, all - marked, denominator).upper,
    }
  })
}

/** As y grows the baseline count looks ever too small, so both ends are found by search. */
function countRange(
  expected: number,
  most: number,
  level: number,
  chances: (y: number) => { readonly atMost: number; readonly atLeast: number },
): CountRange {
  if (expected > 1e9) {
    throw new AppError(
      'stats.out_of_range',
      `The baseline leads to about ${expected} events next, more than this can count exactly.`,
      'Ask about a shorter period, or check that both areas are in the same unit.',
      { expected },
    )
  }
  // A chance equal to the tail is rejected, whatever its last bit says.
  const tail = ((1 - level) / 2) * (1 + 1e-9)
  const lower = firstWhere((y) => chances(y).atLeast > tail, expected, 0, most)
  const beyond = firstWhere((y) => y > most || chances(y).atMost <= tail, expected, 0, most + 1)
  return { expected, lower, upper: beyond - 1, level }
}
