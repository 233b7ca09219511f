import { AppError } from '../errors.ts'
import { requireNumbers } from './special/check.ts'
import { normalCdf, normalQuantile } from './special/normal.ts'

/** Shapiro and Wilk's test. */
export interface ShapiroWilk {
  readonly n: number
  /** At most 1; the smaller, the less normal. */
  readonly w: number
  readonly p: number
}

const polynomial = (c: readonly number[], x: number) => c.reduceRight((sum, a) => sum * x + a, 0)

/**
 * Shapiro and Wilk's test of normality, by Royston's approximation.
 *
 * @param values 3 to 5,000, any order.
 * @throws AppError `stats.too_few_points`, `stats.too_many_points`, `stats.not_finite`; `stats.constant` when
 *   the values do not vary.
 *
 * @see Shapiro & Wilk (1965), Biometrika 52:591; Royston (1995), Algorithm AS R94, Appl Stat 44:547.
 *
 * @example
 * shapiroWilk([1, 2, 3]).w // => 1
 */
export function shapiroWilk(values: readonly number[]): ShapiroWilk {
  requireNumbers('The values', values, 'finite', 3)
  const n = values.length
  if (n > 5000) {
    throw new AppError(
      'stats.too_many_points',
      `${n} values given; the approximation holds up to 5,000.`,
      'Look at the histogram, or test a random part.',
      { n },
    )
  }
  const x = Float64Array.from(values).sort()
  const range = x[n - 1]! - x[0]!
  if (range <= 1e-15 * Math.max(Math.abs(x[0]!), Math.abs(x[n - 1]!))) {
    throw new AppError(
      'stats.constant',
      `Every value is ${x[0]}, so there is no shape to test.`,
      'Record the values more finely.',
      { value: x[0] },
    )
  }
  const a = weights(n)
  // W as the squared correlation of weights and ordered values; 1 − W directly, so that it does not cancel.
  const middle = x[n >> 1]!
  const z = x.map((v) => (v - middle) / range)
  const zMean = z.reduce((s, v) => s + v, 0) / n
  let aa = 0
  let zz = 0
  let az = 0
  for (let i = 0; i < n; i++) {
    aa += a[i]! * a[i]!
    zz += (z[i]! - zMean) ** 2
    az += a[i]! * (z[i]! - zMean)
  }
  const root = Math.sqrt(aa * zz)
  const rest = Math.max(0, ((root - az) * (root + az)) / (aa * zz))
  const w = 1 - rest
  if (n === 3) {
    const p = (6 / Math.PI) * (Math.asin(Math.sqrt(w)) - Math.asin(Math.sqrt(0.75)))
    return { n, w, p: Math.min(1, Math.max(0, p)) }
  }
  let y = Math.log(rest)
  let mean: number
  let sd: number
  if (n <= 11) {
    const gamma = -2.273 + 0.459 * n
    if (y >= gamma) return { n, w, p: 0 }
    y = -Math.log(gamma - y)
    mean = polynomial([0.544, -0.39978, 0.025054, -6.714e-4], n)
    sd = Math.exp(polynomial([1.3822, -0.77857, 0.062767, -0.0020322], n))
  } else {
    const log = Math.log(n)
    mean = polynomial([-1.5861, -0.31082, -0.083751, 0.0038915], log)
    sd = Math.exp(polynomial([-0.4803, -0.082676, 0.0030302], log))
  }
  return { n, w, p: normalCdf(-(y - mean) / sd) }
}

/** Royston's weights, antisymmetric, in the order of the sorted values. */
function weights(n: number): Float64Array {
  const a = new Float64Array(n)
  const half = n >> 1
  if (n === 3) {
    a[0] = -Math.SQRT1_2
    a[2] = Math.SQRT1_2
    return a
  }
  const m = Float64Array.from(
    { length: half },
    (_, i) => -normalQuantile((i + 1 - 0.375) / (n + 0.25)),
  )
  const squares = 2 * m.reduce((sum, v) => sum + v * v, 0)
  const root = Math.sqrt(squares)
  const u = 1 / Math.sqrt(n)
  const first =
    m[0]! / root + polynomial([0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056], u)
  let from = 1
  let scale: number
  const set = (i: number, v: number) => {
    a[i] = -v
    a[n - 1 - i] = v
  }
  set(0, first)
  if (n > 5) {
    const second =
      m[1]! / root + polynomial([0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633], u)
    set(1, second)
    from = 2
    scale = Math.sqrt(
      (squares - 2 * m[0]! ** 2 - 2 * m[1]! ** 2) / (1 - 2 * first ** 2 - 2 * second ** 2),
    )
  } else {
    scale = Math.sqrt((squares - 2 * m[0]! ** 2) / (1 - 2 * first ** 2))
  }
  for (let i = from; i < half; i++) set(i, m[i]! / scale)
  return a
}
