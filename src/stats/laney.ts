import { meanMovingRange } from './individuals-limits.ts'
import { requireSpan } from './special/check.ts'
import { chiSquareTails } from './special/chi-square.ts'

/**
 * d2 for a range of two as Laney's paper prints it. The exact value, 2/√π = 1.12838, would make the
 * limits 0.03 % narrower; the published method is kept so that limits agree with it to every digit.
 */
const LANEY_D2 = 1.128

/** Whether counts vary more, or less, than chance alone would make them. */
export interface Dispersion {
  /** Sigma of the standardised points, from their mean moving range: 1 where only chance acts. */
  readonly sigmaZ: number
  /** Chance of varying at least this much, and at most this much, by chance alone. */
  readonly pOver: number
  readonly pUnder: number
  /** Pairs of neighbours it rests on. */
  readonly pairs: number
}

/**
 * Sigma of standardised points, `sigma_z = MR(z) / 1.128`: how many times wider than binomial or
 * Poisson chance the points vary from one to the next.
 *
 * @param z      Standardised points (value − centre) / sigma; NaN at a gap.
 * @param counts 1 where a point counts; same length.
 * @param start  First position.
 * @param end    One past the last.
 * @returns sigma_z, >= 0; NaN where no two neighbours count.
 * @see Laney 2002, Qual Eng 14:531.
 *
 * @example
 * sigmaZ(Float64Array.of(0, 1.128), Uint8Array.of(1, 1), 0, 2) // => 1
 */
export function sigmaZ(z: Float64Array, counts: Uint8Array, start: number, end: number): number {
  return meanMovingRange(z, counts, start, end) / LANEY_D2
}

/**
 * Test for over- and under-dispersion from neighbouring points, so that a step or a slow drift does
 * not count as one.
 *
 * Half the sum of squared differences of neighbours has mean m and variance 3m − 1 (m pairs) where
 * only chance acts (von Neumann 1941); it is compared with the chi-square distribution of the same
 * two moments.
 *
 * @param z      Standardised points; NaN at a gap.
 * @param counts 1 where a point counts; same length.
 * @param start  First position.
 * @param end    One past the last.
 * @returns sigma_z and both tail areas; tails of 1 where there are no pairs.
 * @see von Neumann 1941, Ann Math Stat 12:367; Laney 2002, Qual Eng 14:531.
 *
 * @example
 * dispersionOf(new Float64Array(1), Uint8Array.of(1), 0, 1).pairs // => 0
 */
export function dispersionOf(
  z: Float64Array,
  counts: Uint8Array,
  start: number,
  end: number,
): Dispersion {
  requireSpan(z.length, start, end)
  let sum = 0
  let pairs = 0
  for (let i = start + 1; i < end; i++) {
    if (counts[i] === 0 || counts[i - 1] === 0) continue
    const step = z[i]! - z[i - 1]!
    sum += (step * step) / 2
    pairs++
  }
  if (pairs === 0 || !Number.isFinite(sum)) {
    return { sigmaZ: Number.NaN, pOver: 1, pUnder: 1, pairs: 0 }
  }
  const variance = 3 * pairs - 1
  const df = (2 * pairs * pairs) / variance
  const tails = chiSquareTails((sum * 2 * pairs) / variance, df)
  return { sigmaZ: sigmaZ(z, counts, start, end), pOver: tails.upper, pUnder: tails.lower, pairs }
}
