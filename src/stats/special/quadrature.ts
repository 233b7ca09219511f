/** Nodes on (-1, 1) and weights. */
export interface QuadratureRule {
  readonly nodes: Float64Array
  readonly weights: Float64Array
}

const rules = new Map<number, QuadratureRule>()

/**
 * Gauss–Legendre nodes and weights on (-1, 1), by Newton's method on the Legendre polynomial.
 *
 * @param n Number of nodes, at least 1; rules are kept.
 * @see Abramowitz & Stegun (1964), 25.4.29.
 * @example
 * gaussLegendre(1).weights[0] // => 2
 */
export function gaussLegendre(n: number): QuadratureRule {
  const known = rules.get(n)
  if (known !== undefined) return known
  const nodes = new Float64Array(n)
  const weights = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5))
    if (2 * i + 1 === n) x = 0
    let slope = 1
    for (let pass = 0; pass < 100; pass++) {
      let p = x
      let before = 1
      for (let k = 2; k <= n; k++) {
        const next = ((2 * k - 1) * x * p - (k - 1) * before) / k
        before = p
        p = next
      }
      slope = (n * (before - x * p)) / (1 - x * x)
      const step = p / slope
      x -= step
      if (Math.abs(step) <= 1e-16) break
    }
    nodes[n - 1 - i] = x
    weights[n - 1 - i] = 2 / ((1 - x * x) * slope * slope)
  }
  const rule = { nodes, weights }
  rules.set(n, rule)
  return rule
}

/**
 * Integral of a smooth function over [from, to], by 16-point Gauss–Legendre on equal panels.
 *
 * @example
 * integrate(() => 0, 0, 1, 1) // => 0
 */
export function integrate(
  f: (x: number) => number,
  from: number,
  to: number,
  panels: number,
): number {
  const { nodes, weights } = gaussLegendre(16)
  const half = (to - from) / panels / 2
  let sum = 0
  for (let p = 0; p < panels; p++) {
    const middle = from + (2 * p + 1) * half
    for (let i = 0; i < 16; i++) sum += weights[i]! * f(middle + half * nodes[i]!)
  }
  return sum * half
}
