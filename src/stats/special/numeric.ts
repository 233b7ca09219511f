/**
 * Natural log of `1 - exp(x)` for `x <= 0`, without cancellation at either end.
 *
 * @param x At most 0.
 * @returns `-Infinity` at 0; `NaN` above 0.
 * @see Maechler (2012), Accurately computing log(1 - exp(-|a|)), R package Rmpfr vignette.
 * @example
 * log1mExp(-Infinity) // => -0
 */
export function log1mExp(x: number): number {
  return x > -Math.LN2 ? Math.log(-Math.expm1(x)) : Math.log1p(-Math.exp(x))
}

/** Both tails of a distribution at one argument, each also as a natural log. */
export interface Tails {
  /** P(X <= x). */
  readonly lower: number
  /** P(X > x). */
  readonly upper: number
  readonly logLower: number
  readonly logUpper: number
}

/**
 * Both tails from the log of one of them.
 *
 * @param logTail Natural log of the tail that was computed (the smaller one, for accuracy).
 * @param isLower Whether that is P(X <= x).
 * @example
 * tailsFromLog(0, true) // => { lower: 1, upper: 0, logLower: 0, logUpper: -Infinity }
 */
export function tailsFromLog(logTail: number, isLower: boolean): Tails {
  const log = Math.min(logTail, 0)
  const tail = Math.exp(log)
  const rest = -Math.expm1(log) + 0
  const logRest = log1mExp(log)
  return isLower
    ? { lower: tail, upper: rest, logLower: log, logUpper: logRest }
    : { lower: rest, upper: tail, logLower: logRest, logUpper: log }
}

/** Tails left of the support: everything is above. */
export const NOTHING_BELOW: Tails = { lower: 0, upper: 1, logLower: -Infinity, logUpper: 0 }
/** Tails right of the support: nothing is above. */
export const NOTHING_ABOVE: Tails = { lower: 1, upper: 0, logLower: 0, logUpper: -Infinity }
/** What an argument outside the domain answers with: kernels pass NaN through. */
export const NO_TAILS: Tails = { lower: NaN, upper: NaN, logLower: NaN, logUpper: NaN }

/**
 * Sum with Neumaier's compensation, so that long series keep their last digits.
 *
 * @see Neumaier (1974), Z Angew Math Mech 54:39.
 * @example
 * compensatedSum([1e100, 1, -1e100]) // => 1
 */
export function compensatedSum(values: ArrayLike<number>): number {
  let sum = 0
  let lost = 0
  for (let i = 0; i < values.length; i++) {
    const x = values[i]!
    const next = sum + x
    lost += Math.abs(sum) >= Math.abs(x) ? sum - next + x : x - next + sum
    sum = next
  }
  return sum + lost
}
