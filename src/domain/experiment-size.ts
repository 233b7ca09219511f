import { noncentralTTails } from '../stats/special/noncentral-t.ts'
import { studentTQuantile } from '../stats/special/student-t.ts'

/** Chance with which a real effect of the size named is to stand out. */
const POWER = 0.8
const ALPHA = 0.05

/**
 * How effects will be judged: by the scatter of repeated runs where that rests on at least as many
 * degrees of freedom, else by the small effects among themselves (Lenth 1989: m / 3 of them).
 *
 * It follows from the plan alone, never from the responses.
 *
 * @param effects How many effects the design estimates, m.
 * @param errorDf Degrees of freedom of repeated runs and centre points.
 *
 * @example
 * yardstick(7, 8) // => 'replicates'
 * yardstick(15, 2) // => 'lenth'
 */
export function yardstick(effects: number, errorDf: number): 'replicates' | 'lenth' {
  return errorDf > 0 && errorDf >= effects / 3 ? 'replicates' : 'lenth'
}

/**
 * Factors of the margins: one effect taken alone, and all of them together (Šidák).
 *
 * `t(1 − α/2; df)` and `t((1 + (1 − α)^(1/m)) / 2; df)` with α = 5 %.
 *
 * @param effects How many are looked at, m, at least 1.
 * @param df      Degrees of freedom, above 0.
 *
 * @see Lenth (1989), Technometrics 31:469.
 *
 * @example
 * marginFactors(7, 8).alone // => 2.306004135204
 */
export function marginFactors(effects: number, df: number): { alone: number; together: number } {
  return {
    alone: -studentTQuantile(ALPHA / 2, df),
    together: -studentTQuantile((1 - (1 - ALPHA) ** (1 / effects)) / 2, df),
  }
}

/**
 * The smallest real effect that stands out even among so many, four times in five, for runs that
 * differ by a standard deviation of 1; multiply it by the standard deviation.
 *
 * With repeats it comes from the noncentral t distribution. Without, from a table of simulated
 * chances that Lenth's margin is passed, with one real effect among effects of zero.
 *
 * @param effects How many effects the design estimates, 3 or more: 3, 7, 15, 31, 63 or 127.
 * @param runs    All runs of the corners, repeats counted.
 * @param errorDf Degrees of freedom of repeated runs and centre points.
 * @returns In standard deviations of a run.
 *
 * @example
 * visibleEffect(7, 16, 8) > visibleEffect(7, 32, 24) // => true
 */
export function visibleEffect(effects: number, runs: number, errorDf: number): number {
  const standardError = 2 / Math.sqrt(runs)
  const shift =
    yardstick(effects, errorDf) === 'replicates'
      ? replicatedShift(effects, errorDf)
      : lenthShift(effects)
  return shift * standardError
}

const known = new Map<string, number>()

/** By bisection: the chance rises with the shift. Worked out once for each design. */
function replicatedShift(effects: number, df: number): number {
  const key = `${effects} ${df}`
  const before = known.get(key)
  if (before !== undefined) return before
  const { together } = marginFactors(effects, df)
  let low = 0
  let high = 2 * together + 10
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2
    if (noncentralTTails(together, Math.max(1, df), middle).upper < POWER) low = middle
    else high = middle
  }
  known.set(key, high)
  return high
}

/**
 * The shift of one effect, in standard errors, that passes Lenth's margin over all effects four times
 * in five: from 60,000 to 400,000 draws each, which repeat to about half a percent. The test of this
 * file draws them again.
 */
const LENTH_SHIFTS: readonly (readonly [effects: number, shift: number])[] = [
  [3, 64.5],
  [7, 12.9],
  [15, 6.93],
  [31, 5.41],
  [63, 4.9],
  [127, 4.75],
]

/** A two-level design has no other number of effects; one in between counts as the next. */
const lenthShift = (effects: number): number =>
  (LENTH_SHIFTS.find(([most]) => effects <= most) ?? LENTH_SHIFTS.at(-1)!)[1]
