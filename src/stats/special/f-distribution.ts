import { betaLogitQuantile, betaTails } from './beta.ts'
import { NO_TAILS, type Tails } from './numeric.ts'

/**
 * Tails of the F distribution, with logs.
 *
 * @param x   At least 0.
 * @param df1 Degrees of freedom of the numerator, above 0.
 * @param df2 Degrees of freedom of the denominator, above 0.
 * @see Abramowitz & Stegun (1964), 26.6.2.
 * @example
 * fTails(0, 2, 2).upper // => 1
 */
export function fTails(x: number, df1: number, df2: number): Tails {
  if (!(x >= 0 && df1 > 0 && df2 > 0)) return NO_TAILS
  const odds = (df1 / df2) * x
  return betaTails(
    df1 / 2,
    df2 / 2,
    odds > 1 ? 1 / (1 + 1 / odds) : odds / (1 + odds),
    1 / (1 + odds),
  )
}

/**
 * Quantile of the F distribution.
 *
 * @param isLower `false` where p is the upper tail.
 * @example
 * fQuantile(0, 2, 2) // => 0
 */
export function fQuantile(p: number, df1: number, df2: number, isLower: boolean = true): number {
  return (df2 / df1) * Math.exp(betaLogitQuantile(df1 / 2, df2 / 2, Math.log(p), isLower))
}
