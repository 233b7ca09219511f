import { AppError } from '../errors.ts'
import type { PointRule } from './rules.ts'
import { normalCdf } from './special/normal.ts'
import { type CompiledRules, compileRules, type Waiting } from './waiting.ts'

const compiled = new WeakMap<readonly PointRule[], CompiledRules>()
/** Chances already worked out: a page asks for the same few again and again. */
const chancesKept = new WeakMap<readonly PointRule[], Map<string, number>>()

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
  if (!Number.isInteger(n) || n < 0) {
    throw new AppError(
      'stats.out_of_range',
      `A chart cannot have ${n} points.`,
      'Give a whole number, zero or more.',
      { n },
    )
  }
  let kept = chancesKept.get(rules)
  if (kept === undefined || kept.size > 1000) {
    kept = new Map()
    chancesKept.set(rules, kept)
  }
  const key = `${n} ${shift}`
  const known = kept.get(key)
  if (known !== undefined) return known
  const chance = chanceWithin(rules, n, shift)
  kept.set(key, chance)
  return chance
}

function chanceWithin(rules: readonly PointRule[], n: number, shift: number): number {
  const waiting = chainOf(rules).wait(zoneChances(shift))
  let signalled = 0
  const steady = steadyHazard()
  for (let i = 0; i < n; i++) {
    const before = waiting.left()
    const now = waiting.step()
    signalled += now
    const hazard = now / before
    if (!steady(hazard, i)) continue
    // From here on the wait is geometric.
    return signalled + waiting.left() * -Math.expm1((n - i - 1) * Math.log1p(-hazard))
  }
  return Math.min(1, signalled)
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

/** Mean number of steps until a waiting chain signals. */
function meanWait(waiting: Waiting): number {
  let mean = 0
  let before = waiting.left()
  let hazard = 0
  const steady = steadyHazard()
  for (let t = 0; t < 1_000_000; t++) {
    mean += before
    hazard = waiting.step() / before
    before = waiting.left()
    if (before < 1e-18 * mean) return rounded(mean)
    if (steady(hazard, t)) {
      return hazard > 0 ? rounded(mean + before / hazard) : Number.POSITIVE_INFINITY
    }
  }
  return hazard > 0 ? mean + before / hazard : Number.POSITIVE_INFINITY
}

/** Tells when the chance of signalling at the next point has stopped changing. */
function steadyHazard(): (hazard: number, step: number) => boolean {
  let last = -1
  let same = 0
  return (hazard, step) => {
    same = Math.abs(hazard - last) <= 1e-13 * hazard ? same + 1 : 0
    last = hazard
    // A hazard of zero at the start is only a rule that has not had its points yet.
    return same >= 8 && step > 100
  }
}

/** Take off the last rounding errors of many sums, so that 255 is 255. */
function rounded(x: number): number {
  return Number(x.toPrecision(13))
}
