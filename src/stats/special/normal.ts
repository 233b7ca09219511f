import { log1mExp } from './numeric.ts'

const SQRT2 = Math.SQRT2
const SQRT_2PI = Math.sqrt(2 * Math.PI)

// Rational approximations of Cody (1969), Math Comp 23:631, on the normal scale.
const NEAR_P = [
  0.06568233791820745, 2.2352520354606837, 161.02823106855587, 1067.6894854603709,
  18154.98125334356,
]
const NEAR_Q = [1, 47.202581904688245, 976.0985517377767, 10260.932208618979, 45507.78933502673]
const MID_P = [
  1.0765576773720192e-8, 0.39894151208813466, 8.883149794388377, 93.50665613217785,
  597.2702763948002, 2494.5375852903726, 6848.190450536283, 11602.65143764735, 9842.714838383978,
]
const MID_Q = [
  1, 22.266688044328117, 235.387901782625, 1519.3775994075547, 6485.558298266761,
  18615.571640885097, 34900.95272114598, 38912.00328609327, 19685.429676859992,
]
const FAR_P = [
  0.023073441764940174, 0.215898534057957, 0.12740116116024736, 0.02223527787064981,
  0.0014216191932278934, 2.9112874951168793e-5,
]
const FAR_Q = [
  1, 1.284260096144911, 0.4682382124808651, 0.06598813786892856, 0.0037823963320275824,
  7.297515550839662e-5,
]

// Rational approximations of Wichura (1988), AS 241 (PPND16), Appl Stat 37:477; highest power first.
const QUANTILE_CENTER_P = [
  2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946,
  1971.5909503065513, 133.14166789178438, 3.3871328727963665,
]
const QUANTILE_CENTER_Q = [
  5226.495278852546, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751,
  687.1870074920579, 42.31333070160091, 1,
]
const QUANTILE_MID_P = [
  0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684,
  3.6478483247632045, 5.769497221460691, 4.630337846156546, 1.4234371107496835,
]
const QUANTILE_MID_Q = [
  1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008,
  0.6897673349851, 1.6763848301838038, 2.053191626637759, 1,
]
const QUANTILE_FAR_P = [
  2.0103343992922881e-7, 2.7115555687434876e-5, 0.0012426609473880784, 0.026532189526576124,
  0.29656057182850487, 1.7848265399172913, 5.463784911164114, 6.657904643501103,
]
const QUANTILE_FAR_Q = [
  2.0442631033899397e-15, 1.421511758316446e-7, 1.8463183175100548e-5, 0.0007868691311456133,
  0.014875361290850615, 0.1369298809227358, 0.599832206555888, 1,
]

/** Horner's rule, highest power first. */
function polynomial(coefficients: readonly number[], x: number): number {
  let value = 0
  for (const c of coefficients) value = value * x + c
  return value
}

/** Phi(z) - 1/2 for |z| < 0.674. */
function nearCenter(z: number): number {
  const s = z * z
  return (z * polynomial(NEAR_P, s)) / polynomial(NEAR_Q, s)
}

/** Phi(-z) / exp(-z^2 / 2) for z >= 0.67: a function without large swings, so that logs are free. */
function scaledTail(z: number): number {
  if (z < 5.656854249492381) return polynomial(MID_P, z) / polynomial(MID_Q, z)
  const s = 1 / (z * z)
  return (1 / SQRT_2PI - (s * polynomial(FAR_P, s)) / polynomial(FAR_Q, s)) / z
}

/** exp(-h x^2) with the square split in two, so that its rounding does not reach the exponent. */
function expMinusSquare(x: number, h: number): number {
  const head = Math.trunc(x * 16) / 16
  return Math.exp(-h * head * head) * Math.exp(-h * (x - head) * (x + head))
}

/**
 * Density of the standard normal distribution.
 *
 * @example
 * normalPdf(Infinity) // => 0
 */
export function normalPdf(z: number): number {
  return Math.abs(z) > 40 ? 0 : expMinusSquare(Math.abs(z), 0.5) / SQRT_2PI + 0 * z
}

/**
 * Standard normal distribution function, `P(Z <= z)`, with full relative accuracy in the lower tail.
 *
 * @param z Any real number. For an upper tail pass `-z`.
 * @returns 0 to 1; below -38.5 it underflows to 0, see `normalLogCdf`.
 * @see Cody (1969), Rational Chebyshev approximations for the error function, Math Comp 23:631.
 * @example
 * normalCdf(0) // => 0.5
 */
export function normalCdf(z: number): number {
  const y = Math.abs(z)
  if (y < 0.67448975) return 0.5 + nearCenter(z)
  if (!(y < 40)) return Number.isNaN(z) ? NaN : z > 0 ? 1 : 0
  const tail = scaledTail(y) * expMinusSquare(y, 0.5)
  return z > 0 ? 1 - tail : tail
}

/**
 * Natural log of the standard normal distribution function, finite for every finite argument.
 *
 * @example
 * normalLogCdf(-Infinity) // => -Infinity
 */
export function normalLogCdf(z: number): number {
  if (z > 0) return Math.log1p(-normalCdf(-z)) + 0
  if (z > -1) return Math.log(normalCdf(z))
  if (z === -Infinity) return -Infinity
  return -0.5 * z * z + Math.log(scaledTail(-z))
}

/** Quantile of a lower-tail probability given as its log, at most log(0.075). */
function tailQuantile(logP: number): number {
  const r = Math.sqrt(-logP)
  if (r <= 5) {
    const t = r - 1.6
    return -polynomial(QUANTILE_MID_P, t) / polynomial(QUANTILE_MID_Q, t)
  }
  if (r <= 27) {
    const t = r - 5
    return -polynomial(QUANTILE_FAR_P, t) / polynomial(QUANTILE_FAR_Q, t)
  }
  let z = -Math.sqrt(-2 * logP)
  // Newton on the log: its derivative is the inverse of Mills' ratio. Concave, so it settles in a few steps.
  for (let i = 0; i < 8; i++) {
    const step = (normalLogCdf(z) - logP) * scaledTail(-z) * SQRT_2PI
    z -= step
    if (Math.abs(step) <= 1e-15 * Math.abs(z)) break
  }
  return z
}

/**
 * Quantile of the standard normal distribution: the z with `P(Z <= z) = p`.
 *
 * @param p 0 to 1. For an upper tail negate the answer, so that small tails keep their accuracy.
 * @returns `-Infinity` at 0, `Infinity` at 1, `NaN` outside.
 * @see Wichura (1988), Algorithm AS 241, Appl Stat 37:477.
 * @example
 * normalQuantile(0.5) // => 0
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return NaN
  const q = p - 0.5
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q
    return (q * polynomial(QUANTILE_CENTER_P, r)) / polynomial(QUANTILE_CENTER_Q, r)
  }
  if (p === 0) return -Infinity
  if (p === 1) return Infinity
  return q < 0 ? tailQuantile(Math.log(p)) : -tailQuantile(Math.log1p(-p))
}

/**
 * Quantile of the standard normal distribution from the log of the lower-tail probability.
 *
 * @param logP At most 0.
 * @example
 * normalLogQuantile(-Infinity) // => -Infinity
 */
export function normalLogQuantile(logP: number): number {
  if (!(logP <= 0)) return NaN
  if (logP === -Infinity) return -Infinity
  if (logP < -2.5) return tailQuantile(logP)
  return logP > -0.08
    ? logP === 0
      ? Infinity
      : -tailQuantile(log1mExp(logP))
    : normalQuantile(Math.exp(logP))
}

/**
 * Error function, `2 / sqrt(pi)` times the integral of `exp(-t^2)` from 0 to x.
 *
 * @example
 * erf(0) // => 0
 */
export function erf(x: number): number {
  if (Math.abs(x) < 0.47) return 2 * nearCenter(x * SQRT2)
  return x > 0 ? 1 - erfc(x) : erfc(-x) - 1
}

/**
 * Complementary error function, `1 - erf(x)`, with full relative accuracy for large x.
 *
 * @example
 * erfc(0) // => 1
 */
export function erfc(x: number): number {
  if (Math.abs(x) < 0.47) return 1 - 2 * nearCenter(x * SQRT2)
  if (x < 0) return 2 - erfc(-x)
  if (x > 27.3) return 0
  return 2 * scaledTail(x * SQRT2) * expMinusSquare(x, 1)
}
