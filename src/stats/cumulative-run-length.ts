import { AppError } from '../errors.ts'
import { solveLinear } from './solve-linear.ts'
import { normalCdf, normalPdf } from './special/normal.ts'
import { gaussLegendre } from './special/quadrature.ts'

/** Nodes of the quadrature: 80 give ten digits for every usual design. */
const NODES = 80
/** A slack or a shift beyond this many sigmas signals never, or at once. */
const FURTHEST = 1000

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
  const { n, step } = cusumKernel(k, h, shift, start)
  const matrix = new Float64Array(n * n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) matrix[i * n + j] = -step(i, j)
    matrix[i * n + i]! += 1
  }
  const lengths = solveLinear(matrix, new Float64Array(n).fill(1))
  if (start === 0) return lengths[0]!
  let length = 1
  for (let j = 0; j < n; j++) length += step(-1, j) * lengths[j]!
  return length
}

/**
 * The chain of a one-sided CUSUM: state 0 is a sum of 0, the others are Gauss–Legendre nodes between
 * 0 and h. `step(i, j)` is the weight of going from i to j; −1 stands for the head start.
 */
function cusumKernel(k: number, h: number, shift: number, start: number) {
  if (!(k >= 0 && k <= FURTHEST)) refuse('k', k, `from 0 to ${FURTHEST}`)
  if (!(h > 0 && h <= 100)) refuse('h', h, 'above 0 and at most 100')
  if (!(Math.abs(shift) <= FURTHEST)) refuse('the shift', shift, `within ${FURTHEST} sigmas`)
  if (!(start >= 0 && start <= h)) refuse('the head start', start, `from 0 to h (${h})`)
  // Wide limits need more nodes, since the kernel keeps its width of one sigma.
  const m = Math.min(600, Math.max(NODES, Math.ceil(h * 10)))
  const { nodes, weights } = gaussLegendre(m)
  const half = h / 2
  const at = (i: number) => (i < 0 ? start : i === 0 ? 0 : half * (nodes[i - 1]! + 1))
  const step = (i: number, j: number) => {
    const toZero = k - at(i) - shift
    return j === 0 ? normalCdf(toZero) : half * weights[j - 1]! * normalPdf(at(j) + toZero)
  }
  return { n: m + 1, step }
}

/**
 * Chance that a one-sided upper CUSUM signals within n points, by the same equation.
 *
 * @param k     Slack in sigmas, >= 0.
 * @param h     Decision limit in sigmas, above 0 to 100.
 * @param n     Points, a whole number from 0 to 100,000.
 * @param shift Change of the mean in sigmas, from the first point on. Default 0.
 * @param start Sum to start from (a head start), 0 to h. Default 0.
 * @returns P(first signal at or before point t) for t = 1 to n.
 * @throws AppError `stats.out_of_range`.
 * @see Brook & Evans 1972, Biometrika 59:539.
 *
 * @example
 * oneSidedCusumSignalChances(1, 2, 1).map((p) => Math.round(p * 1e6) / 1e6)[0] // => 0.00135
 */
export function oneSidedCusumSignalChances(
  k: number,
  h: number,
  n: number,
  shift = 0,
  start = 0,
): Float64Array {
  requirePoints(n)
  const { n: states, step } = cusumKernel(k, h, shift, start)
  return signalChances(states, step, -1, n)
}

/**
 * Chance that a two-sided CUSUM signals within n points, both sums starting at 0.
 *
 * While one sum signals the other is always at 0 (where both are above 0 together they add up to
 * less than h), so a side that signals later has started afresh: with f and g the chances that the
 * upper or the lower side is the first, at point n,
 * p₊(n) = f(n) + Σ g(j) p₊(n − j), and the same for the lower side.
 *
 * @param k     Slack in sigmas, >= 0.
 * @param h     Decision limit in sigmas, above 0 to 100.
 * @param n     Points, a whole number from 0 to 20,000.
 * @param shift Change of the mean in sigmas, from the first point on. Default 0.
 * @returns P(first signal at or before point t) for t = 1 to n.
 * @throws AppError `stats.out_of_range`.
 * @see van Dobben de Bruyn 1968, Cumulative Sum Tests, for the same argument on averages.
 *
 * @example
 * cusumSignalChances(1, 2, 1).map((p) => Math.round(p * 1e6) / 1e6)[0] // => 0.0027
 */
export function cusumSignalChances(k: number, h: number, n: number, shift = 0): Float64Array {
  if (!Number.isInteger(n) || n < 0 || n > 20_000) {
    refuse('the number of points', n, 'a whole number from 0 to 20,000')
  }
  const each = (way: number) =>
    oneSidedCusumSignalChances(k, h, n, way).map((p, t, all) => (t === 0 ? p : p - all[t - 1]!))
  const up = each(shift)
  const down = shift === 0 ? up : each(-shift)
  const upFirst = new Float64Array(n)
  const downFirst = new Float64Array(n)
  const chances = new Float64Array(n)
  let total = 0
  for (let t = 0; t < n; t++) {
    let f = up[t]!
    let g = down[t]!
    for (let j = 0; j < t; j++) {
      f -= downFirst[j]! * up[t - 1 - j]!
      g -= upFirst[j]! * down[t - 1 - j]!
    }
    upFirst[t] = f
    downFirst[t] = g
    total += f + g
    chances[t] = Math.min(1, Math.max(0, total))
  }
  return chances
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
  if (!(Math.abs(shift) <= FURTHEST)) refuse('the shift', shift, `within ${FURTHEST} sigmas`)
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
  requirePoints(n)
  const { m, at, density } = ewmaKernel(lambda, L, shift)
  return signalChances(m, (i, j) => density(i < 0 ? 0 : at(i), j), -1, n)
}

function requirePoints(n: number): void {
  if (!Number.isInteger(n) || n < 0 || n > 100_000) {
    refuse('the number of points', n, 'a whole number from 0 to 100,000')
  }
}

/** How the chance of no signal runs out, one point at a time, from the state `start`. */
function signalChances(
  states: number,
  step: (i: number, j: number) => number,
  start: number,
  n: number,
): Float64Array {
  const kernel = new Float64Array(states * states)
  for (let i = 0; i < states; i++) {
    for (let j = 0; j < states; j++) kernel[i * states + j] = step(i, j)
  }
  const first = Float64Array.from({ length: states }, (_, j) => step(start, j))
  let quiet = new Float64Array(states).fill(1)
  const chances = new Float64Array(n)
  let before = 1
  let ratio = 0
  let steady = 0
  for (let t = 0; t < n; t++) {
    let fromStart = 0
    for (let j = 0; j < states; j++) fromStart += first[j]! * quiet[j]!
    // Once each point leaves the same share it goes on so: there is no need to work it out.
    const share = fromStart / before
    steady = Math.abs(share - ratio) <= 1e-14 ? steady + 1 : 0
    ratio = share
    before = fromStart
    chances[t] = Math.min(1, Math.max(0, 1 - fromStart))
    if (before === 0 || steady >= 20) {
      for (let u = t + 1; u < n; u++) {
        before *= ratio
        chances[u] = Math.min(1, Math.max(0, 1 - before))
      }
      return chances
    }
    const next = new Float64Array(states)
    for (let i = 0; i < states; i++) {
      let sum = 0
      for (let j = 0; j < states; j++) sum += kernel[i * states + j]! * quiet[j]!
      next[i] = sum
    }
    quiet = next
  }
  return chances
}
