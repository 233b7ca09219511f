import { AppError } from '../errors.ts'
import { requireNumbers } from './special/check.ts'

/**
 * Durbin–Watson statistic of residuals in time order, `Σ (e_t − e_{t−1})² / Σ e_t²`.
 *
 * @param residuals At least 2, in time order.
 * @returns 0 to 4: about 2 where neighbours are unrelated, lower where they resemble each other.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`; `stats.constant` when all are 0.
 *
 * @see Durbin & Watson (1950), Biometrika 37:409.
 *
 * @example
 * durbinWatson([1, -1, 1, -1]) // => 3
 */
export function durbinWatson(residuals: readonly number[]): number {
  requireNumbers('The residuals', residuals, 'finite', 2)
  let steps = 0
  let squares = 0
  // Scaled by the largest, so that tiny or huge residuals do not underflow or overflow.
  const largest = residuals.reduce((most, e) => Math.max(most, Math.abs(e)), 0)
  if (largest === 0) {
    throw new AppError(
      'stats.constant',
      'Every residual is 0: the fit is perfect, so there is nothing to test.',
      'Show the fit without this figure.',
    )
  }
  for (let t = 0; t < residuals.length; t++) {
    const e = residuals[t]! / largest
    squares += e * e
    if (t > 0) steps += (e - residuals[t - 1]! / largest) ** 2
  }
  return steps / squares
}
