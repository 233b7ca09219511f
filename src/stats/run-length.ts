import { AppError } from '../errors.ts'
import type { PointRule } from './rules.ts'
import { normalCdf } from './special/normal.ts'
import { type CompiledRules, compileRules, type Waiting } from './waiting.ts'

const compiled = new WeakMap<readonly PointRule[], CompiledRules>()

function chainOf(rules: readonly PointRule[]): CompiledRules {
  if (rules.length === 0) {
    throw new AppError(
      'stats.out_of_range',
      'A run length needs at least one rule, got none.',
      'Give one or more rules, such as those of RULE_SETS.',
    )
  }
  let chain = compiled.get(rules)
  if (chain === undefined) {
    chain = compileRules(rules)
    compiled.set(rules, chain)
  }
  return chain
}

/** Chances of the eight zones of a normal point whose mean has moved by `shift` sigma. */
function zoneChances(shift: number): Float64Array {
  if (!Number.isFinite(shift)) {
    throw new AppError(
      'stats.out_of_range',
      `The shift ${shift} is not a number of sigmas.`,
      'Give the shift as a finite number of sigmas; 0 for no change.',
      { shift },
    )
  }
  const chances = new Float64Array(8)
  // Upper borders minus the mean; each half of the axis uses the tail that keeps its digits.
  for (let k = 0; k < 8; k++) {
    const low = k === 0 ? Number.NEGATIVE_INFINITY : k - 4 - shift
    const high = k === 7 ? Number.POSITIVE_INFINITY : k - 3 - shift
    chances[k] = low > 0 ? normalCdf(-low) - normalCdf(-high) : normalCdf(high) - normalCdf(low)
  }
  return chances
}

/**
 * Chance that the first signal comes at point 1, 2, …, n, for limits that are known and points that
 * are independent and normal.
 *
 * @param rules Any combination of point rules, such as `RULE_SETS['zone-tests'].pointRules`.
 * @param n     Points, a whole number from 0 to 1,000,000.
 * @param shift Change of the mean in sigmas, from the first point on. Default 0.
 * @returns n probabilities, in order.
 * @throws AppError `stats.out_of_range`.
 * @see Champ & Woodall 1987, Technometrics 29:393.
 *
 * @example
 * runLengthDistribution([{ slug: 'x', shape: 'side', length: 2 }], 3).map((p) => Math.round(p * 1e6) / 1e6) // => new Float64Array([0, 0.5, 0.25])
 */
export function runLengthDistribution(
  rules: readonly PointRule[],
  n: number,
  shift = 0,
): Float64Array {
  if (!Number.isInteger(n) || n < 0 || n > 1_000_000) {
    throw new AppError(
      'stats.out_of_range',
      `A run length distribution is worked out for 0 to 1,000,000 points, got ${n}.`,
      'Give a whole number in that range.',
      { n },
    )
  }
  const waiting = chainOf(rules).wait(zoneChances(shift))
  const chances = new Float64Array(n)
  for (let i = 0; i < n; i++) chances[i] = waiting.step()
  return chances
}

/**
 * Chance of at least one signal within n points, for known limits.
 *
 * @param rules Any combination of point rules.
 * @param n     Points, a whole number from 0 to 1,000,000.
 * @param shift Change of the mean in sigmas. Default 0: the chance of a false signal.
 * @returns 0–1.
 * @throws AppError `stats.out_of_range`.
 * @see Champ & Woodall 1987, Technometrics 29:393.
 *
 * @example
 * Math.round(chanceOfSignal([{ slug: 'x', shape: 'window', need: 1, of: 1, beyond: 3 }], 24) * 1e6) / 1e6 // => 0.062823
 */
export function chanceOfSignal(rules: readonly PointRule[], n: number, shift = 0): number {
  const chances = runLengthDistribution(rules, n, shift)
  let sum = 0
  for (let i = n - 1; i >= 0; i--) sum += chances[i]!
  return Math.min(1, sum)
}

/**
 * Average number of points to the first signal, for known limits.
 *
 * The chain is stepped until the chance that a waiting chart signals at its next point no longer
 * changes; from there on the wait is geometric and its mean is known.
 *
 * @param rules Any combination of point rules.
 * @param shift Change of the mean in sigmas, from the first point on. Default 0.
 * @returns Points, >= 1; Infinity where a signal is impossible.
 * @throws AppError `stats.out_of_range`.
 * @see Champ & Woodall 1987, Technometrics 29:393: 370.40 for 3-sigma limits alone.
 *
 * @example
 * averageRunLength([{ slug: 'x', shape: 'side', length: 8 }]) // => 255
 */
export function averageRunLength(rules: readonly PointRule[], shift = 0): number {
  return meanWait(chainOf(rules).wait(zoneChances(shift)))
}

/**
 * Mean number of steps until a waiting chain signals.
 *
 * @param waiting A chain at its start.
 * @returns Steps, >= 1.
 */
export function meanWait(waiting: Waiting): number {
  let mean = 0
  let before = waiting.left()
  let hazard = -1
  let steady = 0
  for (let t = 0; t < 1_000_000; t++) {
    mean += before
    const signalled = waiting.step()
    const now = signalled / before
    steady = Math.abs(now - hazard) <= 1e-13 * now ? steady + 1 : 0
    hazard = now
    before = waiting.left()
    if (before < 1e-18 * mean) return rounded(mean)
    // A hazard of zero at the start is only a rule that has not had its points yet.
    if (steady >= 8 && t > 100)
      return hazard > 0 ? rounded(mean + before / hazard) : Number.POSITIVE_INFINITY
  }
  return hazard > 0 ? mean + before / hazard : Number.POSITIVE_INFINITY
}

/** Take off the last rounding errors of many sums, so that 255 is 255. */
function rounded(x: number): number {
  return Number(x.toPrecision(13))
}
