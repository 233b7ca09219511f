import type { Random } from './special/random.ts'

/** Draws one value at a time from a distribution. */
export type Draw = (random: Random) => number

/**
 * Draws from a distribution of whole numbers by looking up one uniform number in its cumulative
 * probabilities.
 *
 * @param first      Smallest value in the table.
 * @param cumulative P(X <= first + i), rising to 1.
 * @returns The draw.
 */
function tableDraw(first: number, cumulative: Float64Array): Draw {
  // A guide table of where to start looking makes the search short.
  const guide = new Int32Array(64)
  for (let g = 0, i = 0; g < 64; g++) {
    while (i < cumulative.length - 1 && cumulative[i]! <= g / 64) i++
    guide[g] = i
  }
  return (random) => {
    const u = random.uniform()
    let i = guide[Math.floor(u * 64)]!
    while (i < cumulative.length - 1 && cumulative[i]! <= u) i++
    return first + i
  }
}

/** Probabilities of whole numbers in a row. */
export interface Masses {
  /** The smallest number listed. */
  readonly first: number
  /** P(first), P(first + 1), …; they sum to 1. */
  readonly masses: Float64Array
}

/** Outward from the mode by ratios of neighbouring probabilities, so that nothing underflows early. */
function outward(mode: number, most: number, up: (k: number) => number): Masses {
  const above: number[] = [1]
  for (let k = mode, mass = 1; k < most; k++) {
    mass *= up(k)
    if (mass < 1e-17) break
    above.push(mass)
  }
  const below: number[] = []
  for (let k = mode, mass = 1; k > 0; k--) {
    mass /= up(k - 1)
    if (mass < 1e-17) break
    below.push(mass)
  }
  const masses = Float64Array.from([...below.reverse(), ...above])
  const total = masses.reduce((sum, x) => sum + x, 0)
  return { first: mode - below.length, masses: masses.map((x) => x / total) }
}

/**
 * Probabilities of Binomial(n, p), those below 1e-17 of the largest left out.
 *
 * @param n Items, a whole number >= 0.
 * @param p Chance of each, 0–1.
 * @returns The probabilities in order.
 *
 * @example
 * Array.from(binomialMasses(2, 0.5).masses) // => [0.25, 0.5, 0.25]
 */
export function binomialMasses(n: number, p: number): Masses {
  if (p <= 0 || n === 0) return { first: 0, masses: Float64Array.of(1) }
  if (p >= 1) return { first: n, masses: Float64Array.of(1) }
  const odds = p / (1 - p)
  return outward(Math.min(n, Math.floor((n + 1) * p)), n, (k) => (odds * (n - k)) / (k + 1))
}

/**
 * Probabilities of a Poisson distribution, those below 1e-17 of the largest left out.
 *
 * @param mean Expected count, >= 0.
 * @returns The probabilities in order.
 *
 * @example
 * poissonMasses(0).first // => 0
 */
export function poissonMasses(mean: number): Masses {
  if (mean <= 0) return { first: 0, masses: Float64Array.of(1) }
  return outward(Math.floor(mean), Number.POSITIVE_INFINITY, (k) => mean / (k + 1))
}

/** Above this variance a table would be long, and a rounded normal value is as good. */
const LARGE_VARIANCE = 1e6

function normalDraw(mean: number, sd: number, most: number): Draw {
  return (random) => Math.min(most, Math.max(0, Math.round(mean + sd * random.normal())))
}

function drawFrom({ first, masses }: Masses): Draw {
  if (masses.length === 1) return () => first
  let sum = 0
  return tableDraw(
    first,
    masses.map((x) => {
      sum += x
      return sum
    }),
  )
}

/**
 * Draws from Binomial(n, p).
 *
 * @param n Items, a whole number >= 0.
 * @param p Chance of each, 0–1.
 * @returns The draw; probabilities below 1e-17 of the largest are left out, and a variance above
 *   1e6 is drawn as a rounded normal value.
 *
 * @example
 * binomialDraw(3, 1)({ uniform: () => 0.5, integer: () => 0, normal: () => 0 }) // => 3
 */
export function binomialDraw(n: number, p: number): Draw {
  if (n * p * (1 - p) > LARGE_VARIANCE) return normalDraw(n * p, Math.sqrt(n * p * (1 - p)), n)
  return drawFrom(binomialMasses(n, p))
}

/**
 * Draws from a Poisson distribution.
 *
 * @param mean Expected count, >= 0.
 * @returns The draw; probabilities below 1e-17 of the largest are left out, and a variance above
 *   1e6 is drawn as a rounded normal value.
 *
 * @example
 * poissonDraw(0)({ uniform: () => 0.5, integer: () => 0, normal: () => 0 }) // => 0
 */
export function poissonDraw(mean: number): Draw {
  if (mean > LARGE_VARIANCE) return normalDraw(mean, Math.sqrt(mean), Number.POSITIVE_INFINITY)
  return drawFrom(poissonMasses(mean))
}

/**
 * Draws the number of cases before the next event, where each is one with chance p.
 *
 * @param p Chance, above 0 to 1.
 * @returns The draw.
 *
 * @example
 * geometricDraw(1)({ uniform: () => 0.5, integer: () => 0, normal: () => 0 }) // => 0
 */
export function geometricDraw(p: number): Draw {
  if (p >= 1) return () => 0
  const scale = 1 / Math.log1p(-p)
  return (random) => Math.floor(Math.log1p(-random.uniform()) * scale)
}
