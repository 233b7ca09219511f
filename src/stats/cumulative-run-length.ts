import { AppError } from '../errors.ts'
import { solveLinear } from './solve-linear.ts'
import { normalCdf, normalPdf } from './special/normal.ts'
import { gaussLegendre } from './special/quadrature.ts'

/** Nodes of the quadrature: 80 give ten digits for every usual design. */
const NODES = 80

function refuse(name: string, value: number, range: string): never {
  throw new AppError(
    'stats.out_of_range',
    `For a run length ${name} cannot be ${value}.`,
    `It must be ${range}.`,
    { name, value },
  )
}

/**
 * Average run length of a one-sided upper CUSUM of independent normal points.
 *
 * With S after a point, L(s) = 1 + L(0) Φ(k − s − δ) + ∫₀ʰ L(x) φ(x + k − s − δ) dx, solved at
 * Gauss–Legendre nodes.
 *
 * @param k     Slack in sigmas, >= 0.
 * @param h     Decision limit in sigmas, above 0 to 100.
 * @param shift Change of the mean in sigmas, from the first point on. Default 0.
 * @param start Sum to start from (a head start), 0 to h. Default 0.
 * @returns Points to the first signal on average.
 * @throws AppError `stats.out_of_range`.
 * @see Brook & Evans 1972, Biometrika 59:539; Montgomery, Introduction to SQC: 930.9 for k 0.5, h 5.
 *
 * @example
 * Math.round(oneSidedCusumRunLength(0.5, 5) * 10) / 10 // => 930.9
 */
export function oneSidedCusumRunLength(k: number, h: number, shift = 0, start = 0): number {
  if (!(Number.isFinite(k) && k >= 0)) refuse('k', k, 'zero or more')
  if (!(h > 0 && h <= 100)) refuse('h', h, 'above 0 and at most 100')
  if (!Number.isFinite(shift)) refuse('the shift', shift, 'a number of sigmas')
  if (!(start >= 0 && start <= h)) refuse('the head start', start, `from 0 to h (${h})`)
  // Wide limits need more nodes, since the kernel keeps its width of one sigma.
  const m = Math.min(600, Math.max(NODES, Math.ceil(h * 10)))
  const { nodes, weights } = gaussLegendre(m)
  const half = h / 2
  const n = m + 1
  const matrix = new Float64Array(n * n)
  const right = new Float64Array(n).fill(1)
  const at = (i: number) => (i === 0 ? 0 : half * (nodes[i - 1]! + 1))
  for (let i = 0; i < n; i++) {
    const s = at(i)
    matrix[i * n] = -normalCdf(k - s - shift)
    for (let j = 1; j < n; j++) {
      matrix[i * n + j] = -half * weights[j - 1]! * normalPdf(at(j) + k - s - shift)
    }
    matrix[i * n + i]! += 1
  }
  const lengths = solveLinear(matrix, right)
  if (start === 0) return lengths[0]!
  let length = 1 + lengths[0]! * normalCdf(k - start - shift)
  for (let j = 1; j < n; j++) {
    length += lengths[j]! * half * weights[j - 1]! * normalPdf(at(j) + k - start - shift)
  }
  return length
}

/**
 * Average run length of a two-sided CUSUM with both sums starting at 0:
 * 1/ARL = 1/ARL(upper) + 1/ARL(lower).
 *
 * @param k     Slack in sigmas, >= 0.
 * @param h     Decision limit in sigmas, above 0 to 100.
 * @param shift Change of the mean in sigmas. Default 0.
 * @returns Points to the first signal on average.
 * @throws AppError `stats.out_of_range`.
 * @see van Dobben de Bruyn 1968, Cumulative Sum Tests; Montgomery, Introduction to SQC: 168 and 465.
 *
 * @example
 * Math.round(cusumRunLength(0.5, 5)) // => 465
 */
export function cusumRunLength(k: number, h: number, shift = 0): number {
  const upper = oneSidedCusumRunLength(k, h, shift)
  const lower = oneSidedCusumRunLength(k, h, -shift)
  return 1 / (1 / upper + 1 / lower)
}

/** The integral kernel of an EWMA with settled limits, at Gauss–Legendre nodes. */
function ewmaKernel(lambda: number, L: number, shift: number) {
  if (!(lambda > 0 && lambda <= 1)) refuse('lambda', lambda, 'above 0 and at most 1')
  if (!(L > 0 && L <= 10)) refuse('L', L, 'above 0 and at most 10')
  if (!Number.isFinite(shift)) refuse('the shift', shift, 'a number of sigmas')
  const limit = L * Math.sqrt(lambda / (2 - lambda))
  // The kernel is lambda wide; nodes must be closer than that.
  const m = Math.min(400, Math.max(NODES, Math.ceil((20 * limit) / lambda)))
  const { nodes, weights } = gaussLegendre(m)
  const density = (from: number, j: number) =>
    (limit * weights[j]! * normalPdf((limit * nodes[j]! - (1 - lambda) * from) / lambda - shift)) /
    lambda
  return { m, at: (j: number) => limit * nodes[j]!, density }
}

/**
 * Average run length of an EWMA of independent normal points, with the limits it settles to and
 * starting at the target.
 *
 * L(z) = 1 + 1/λ ∫ L(x) φ((x − (1−λ) z)/λ − δ) dx between the limits ± L √(λ/(2−λ)), solved at
 * Gauss–Legendre nodes.
 *
 * @param lambda Weight of the newest point, above 0 to 1.
 * @param L      Width of the limits, above 0 to 10.
 * @param shift  Change of the mean in sigmas, from the first point on. Default 0.
 * @returns Points to the first signal on average.
 * @throws AppError `stats.out_of_range`.
 * @see Crowder 1987, Technometrics 29:401; Lucas & Saccucci 1990, Technometrics 32:1.
 *
 * @example
 * Math.round(ewmaRunLength(0.25, 2.998)) // => 500
 */
export function ewmaRunLength(lambda: number, L: number, shift = 0): number {
  const { m, at, density } = ewmaKernel(lambda, L, shift)
  const matrix = new Float64Array(m * m)
  for (let i = 0; i < m; i++) {
    const from = at(i)
    for (let j = 0; j < m; j++) matrix[i * m + j] = -density(from, j)
    matrix[i * m + i]! += 1
  }
  const lengths = solveLinear(matrix, new Float64Array(m).fill(1))
  let length = 1
  for (let j = 0; j < m; j++) length += density(0, j) * lengths[j]!
  return length
}

/**
 * Chance that an EWMA signals within n points, with the limits it settles to.
 *
 * @param lambda Weight of the newest point, above 0 to 1.
 * @param L      Width of the limits, above 0 to 10.
 * @param n      Points, a whole number from 0 to 100,000.
 * @param shift  Change of the mean in sigmas, from the first point on. Default 0.
 * @returns P(first signal at or before point t) for t = 1 to n.
 * @throws AppError `stats.out_of_range`.
 * @see Crowder 1987, Technometrics 29:401.
 *
 * @example
 * ewmaSignalChances(1, 3, 1).map((p) => Math.round(p * 1e6) / 1e6)[0] // => 0.0027
 */
export function ewmaSignalChances(lambda: number, L: number, n: number, shift = 0): Float64Array {
  if (!Number.isInteger(n) || n < 0 || n > 100_000) {
    refuse('the number of points', n, 'a whole number from 0 to 100,000')
  }
  const { m, at, density } = ewmaKernel(lambda, L, shift)
  const kernel = new Float64Array(m * m)
  for (let i = 0; i < m; i++) for (let j = 0; j < m; j++) kernel[i * m + j] = density(at(i), j)
  const first = Float64Array.from({ length: m }, (_, j) => density(0, j))
  let quiet = new Float64Array(m).fill(1)
  const chances = new Float64Array(n)
  for (let t = 0; t < n; t++) {
    let fromStart = 0
    for (let j = 0; j < m; j++) fromStart += first[j]! * quiet[j]!
    chances[t] = Math.max(0, 1 - fromStart)
    const next = new Float64Array(m)
    for (let i = 0; i < m; i++) {
      let sum = 0
      for (let j = 0; j < m; j++) sum += kernel[i * m + j]! * quiet[j]!
      next[i] = sum
    }
    quiet = next
  }
  return chances
}
