import { requireLevel, requireNumbers } from './special/check.ts'
import { normalQuantile } from './special/normal.ts'
import { studentTQuantile } from './special/student-t.ts'

/** Lenth's judgement of the effects of an unreplicated design. */
export interface Lenth {
  /** 1.5 · median |effect|. */
  readonly s0: number
  /** Pseudo standard error: 1.5 · median of those |effect| below 2.5 s0. */
  readonly pse: number
  readonly df: number
  /** Effects beyond this stand out one by one. */
  readonly marginOfError: number
  /** Effects beyond this stand out even among so many. */
  readonly simultaneousMargin: number
}

/**
 * Lenth's pseudo standard error and margins for unreplicated effects.
 *
 * `ME = t(1 − α/2; m/3) PSE`, `SME = t((1 + (1 − α)^(1/m)) / 2; m/3) PSE`.
 *
 * @param effects At least 3 estimates, the mean not among them.
 * @param alpha   Default 0.05.
 * @returns In the unit of the effects; 0 where most effects are 0.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`.
 *
 * @see Lenth (1989), Technometrics 31:469.
 *
 * @example
 * lenth([1, -1, 1, 10]).pse // => 1.5
 */
export function lenth(effects: readonly number[], alpha = 0.05): Lenth {
  requireNumbers('The effects', effects, 'finite', 3)
  requireLevel(alpha)
  const sizes = effects.map(Math.abs)
  const s0 = 1.5 * median(sizes)
  const small = sizes.filter((size) => size < 2.5 * s0)
  const pse = small.length === 0 ? 0 : 1.5 * median(small)
  const m = effects.length
  const df = m / 3
  const together = (1 - (1 - alpha) ** (1 / m)) / 2
  return {
    s0,
    pse,
    df,
    marginOfError: -studentTQuantile(alpha / 2, df) * pse,
    simultaneousMargin: -studentTQuantile(together, df) * pse,
  }
}

/**
 * Half-normal scores of effects, smallest first, for the half-normal plot.
 *
 * The i-th smallest of m sizes is set against `Φ⁻¹(1/2 + (i − 1/2) / 2m)`.
 *
 * @param effects At least 1 estimate.
 * @returns `index` of the effect in the list given, its size, and its score.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`.
 *
 * @see Daniel (1959), Technometrics 1:311.
 *
 * @example
 * halfNormalScores([-3])[0].score // => 0.6744897502
 */
export function halfNormalScores(
  effects: readonly number[],
): { readonly index: number; readonly size: number; readonly score: number }[] {
  requireNumbers('The effects', effects, 'finite', 1)
  const m = effects.length
  return effects
    .map((effect, index) => ({ index, size: Math.abs(effect) }))
    .sort((a, b) => a.size - b.size || a.index - b.index)
    .map(({ index, size }, i) => ({
      index,
      size,
      score: normalQuantile(0.5 + (i + 0.5) / (2 * m)),
    }))
}

function median(values: readonly number[]): number {
  const ordered = [...values].sort((a, b) => a - b)
  const middle = ordered.length >> 1
  return ordered.length % 2 === 1 ? ordered[middle]! : (ordered[middle - 1]! + ordered[middle]!) / 2
}
