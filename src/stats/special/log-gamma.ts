const HALF_LOG_2PI = 0.5 * Math.log(2 * Math.PI)
const EULER_GAMMA = 0.5772156649015329

/** Riemann zeta(k) - 1 for k = 2, 3, …, 40: direct sum to 30 terms, then Euler–Maclaurin. */
const ZETA_MINUS_1: readonly number[] = /* @__PURE__ */ Array.from({ length: 39 }, (_, i) => {
  const k = i + 2
  const n = 30
  let tail = n ** (1 - k) / (k - 1) + n ** -k / 2
  tail += (k * n ** (-k - 1)) / 12
  tail -= (k * (k + 1) * (k + 2) * n ** (-k - 3)) / 720
  tail += (k * (k + 1) * (k + 2) * (k + 3) * (k + 4) * n ** (-k - 5)) / 30240
  tail -= (k * (k + 1) * (k + 2) * (k + 3) * (k + 4) * (k + 5) * (k + 6) * n ** (-k - 7)) / 1209600
  let sum = 0
  for (let m = n - 1; m >= 2; m--) sum += m ** -k
  return sum + tail
})

/** log gamma(2 + w) for |w| <= 1/2, accurate also next to its zero at w = 0. Abramowitz & Stegun 6.1.33. */
function logGammaNearTwo(w: number): number {
  let sum = 0
  for (let k = 40; k >= 2; k--) sum = ((k % 2 === 0 ? 1 : -1) * ZETA_MINUS_1[k - 2]!) / k + w * sum
  return w * (1 - EULER_GAMMA + w * sum)
}

/** log gamma(x) minus its leading Stirling terms, for x >= 10. Abramowitz & Stegun 6.1.41. */
function stirlingSeries(x: number): number {
  const s = 1 / (x * x)
  const tail = 1 / 1680 - s * (1 / 1188 - s * (691 / 360360 - s * (1 / 156 - (s * 3617) / 122400)))
  return (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * tail))) / x
}

/**
 * Natural log of the gamma function for positive arguments.
 *
 * Zeta series about 2 (so that the zeros at 1 and 2 keep their relative accuracy), recurrence, and
 * Stirling's series from 10 upwards.
 *
 * @param x Above 0.
 * @returns `Infinity` at 0 and at Infinity; `NaN` below 0.
 * @see Abramowitz & Stegun (1964), 6.1.15, 6.1.33 and 6.1.41.
 * @example
 * logGamma(2) // => 0
 */
export function logGamma(x: number): number {
  if (!(x >= 0)) return NaN
  if (x === 0 || x === Infinity) return Infinity
  if (x >= 10) return (x - 0.5) * Math.log(x) - x + HALF_LOG_2PI + stirlingSeries(x)
  if (x < 0.5) return logGammaNearTwo(x) - Math.log1p(x) - Math.log(x)
  if (x < 1.5) return logGammaNearTwo(x - 1) - Math.log1p(x - 1)
  let y = x
  let product = 1
  while (y > 2.5) {
    y -= 1
    product *= y
  }
  return Math.log(product) + logGammaNearTwo(y - 2)
}

/**
 * Error of Stirling's formula: `log gamma(x + 1) - ((x + 1/2) log x - x + log(2 pi) / 2)`.
 *
 * @param x At least 0.
 * @see Loader (2000), Fast and accurate computation of binomial probabilities, eq. 3.
 * @example
 * stirlingError(0) // => Infinity
 */
export function stirlingError(x: number): number {
  if (x >= 10) return stirlingSeries(x)
  if (x === 0) return Infinity
  return logGamma(x + 1) - (x + 0.5) * Math.log(x) + x - HALF_LOG_2PI
}

/**
 * Poisson deviance term `x log(x / mean) + mean - x`, without cancellation where x is near the mean.
 *
 * @see Loader (2000), section 3.
 * @example
 * devianceTerm(4, 4) // => 0
 */
export function devianceTerm(x: number, mean: number): number {
  if (x === 0) return mean
  const difference = x - mean
  if (Math.abs(difference) < 0.1 * (x + mean)) {
    const v = difference / (x + mean)
    let sum = difference * v
    let term = 2 * x * v
    for (let j = 1; j < 1000; j++) {
      term *= v * v
      const next = sum + term / (2 * j + 1)
      if (next === sum) return next
      sum = next
    }
  }
  return x * Math.log(x / mean) + mean - x
}

/**
 * Natural log of the beta function, `log(gamma(a) gamma(b) / gamma(a + b))`, for positive arguments.
 *
 * @example
 * logBeta(1, 1) // => 0
 */
export function logBeta(a: number, b: number): number {
  const small = Math.min(a, b)
  const large = Math.max(a, b)
  if (!(small > 0)) return small === 0 ? Infinity : NaN
  if (large < 10) return logGamma(small) + logGamma(large) - logGamma(small + large)
  const sum = small + large
  if (small < 10) {
    // log(gamma(large) / gamma(large + small)) with the large terms cancelled on paper.
    const ratio =
      stirlingSeries(large) -
      stirlingSeries(sum) +
      small -
      small * Math.log(sum) +
      (large - 0.5) * Math.log1p(-small / sum)
    return logGamma(small) + ratio
  }
  return (
    HALF_LOG_2PI -
    0.5 * Math.log(large) +
    stirlingSeries(small) +
    stirlingSeries(large) -
    stirlingSeries(sum) +
    (small - 0.5) * Math.log(small / sum) +
    large * Math.log1p(-small / sum)
  )
}
