import { gammaQuantile, gammaTails } from './gamma.ts'
import type { Tails } from './numeric.ts'

/**
 * Tails of the chi-square distribution, with logs.
 *
 * @param df Degrees of freedom, above 0.
 * @example
 * chiSquareTails(0, 2).upper // => 1
 */
export function chiSquareTails(x: number, df: number): Tails {
  return gammaTails(df / 2, x / 2)
}

/**
 * Quantile of the chi-square distribution.
 *
 * @param p       Tail probability, 0 to 1.
 * @param isLower `false` where p is the upper tail.
 * @example
 * chiSquareQuantile(0, 3) // => 0
 */
export function chiSquareQuantile(p: number, df: number, isLower: boolean = true): number {
  return 2 * gammaQuantile(df / 2, Math.log(p), isLower)
}
