import { AppError } from '../errors.ts'
import { binomialFunnelLimit, poissonFunnelLimit } from './funnel-limits.ts'
import { requireFraction, requireLevel, requireNumber } from './special/check.ts'
import { normalQuantile } from './special/normal.ts'

/** One unit: events of cases (proportion), or events of an area or expected number (rate). */
export interface FunnelUnit {
  readonly numerator: number
  readonly denominator: number
}

/** A unit placed in the funnel. */
export interface FunnelPoint {
  readonly value: number
  /** Distance from the target in standard errors, before any widening. */
  readonly z: number
  /** The same after the widening in use. */
  readonly zUsed: number
  /** One pair for each level asked for. */
  readonly limits: readonly {
    readonly level: number
    readonly lower: number
    readonly upper: number
  }[]
}

/** A funnel plot. */
export interface Funnel {
  readonly target: number
  readonly points: readonly FunnelPoint[]
  /** Mean square of the winsorised z: about 1 where units differ by chance alone. */
  readonly phi: number
  /** Mean square of the z as they are. */
  readonly phiRaw: number
  /** Variance between units beyond chance, from the winsorised z; 0 or more. */
  readonly tauSquared: number
  /** phi is more than 2 standard errors above 1, so that widening is called for. */
  readonly overdispersed: boolean
  readonly widening: 'none' | 'multiplicative' | 'additive'
}

/**
 * Funnel plot of many units against one target, with optional widening for over-dispersion.
 *
 * `z = (y − θ) / s`, `s² = θ (1 − θ) / n` (proportion) or `θ / n` (rate). `φ = Σ z² / I` after
 * winsorising. Multiplicative: `θ ± z_p s √max(1, φ)`. Additive: `θ ± z_p √(s² + τ²)`, with
 * `τ² = max(0, (I φ − (I − 1)) / (Σ w − Σ w² / Σ w))`, `w = 1 / s²`. Without widening the limits are exact.
 *
 * @param units   At least 2; numerators whole, denominators above 0 (whole for proportions).
 * @param options `kind`, default `proportion`; `target`, default all events over all cases; `levels`, default
 *                0.95 and 0.998; `winsorize`, share pulled in at each end by rank, 0 to 0.5, default 0.1;
 *                `widening`, default `none`.
 * @returns Limits are clipped at 0, and at 1 for proportions.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`,
 *   `stats.numerator_over_denominator`; `stats.constant` when the target leaves no room for chance.
 *
 * @see Spiegelhalter (2005), Stat Med 24:1185, sections 3.1–3.4 and appendix A.
 *
 * @example
 * funnelPlot([{ numerator: 8, denominator: 100 }, { numerator: 2, denominator: 100 }]).target // => 0.05
 */
export function funnelPlot(
  units: readonly FunnelUnit[],
  options: {
    readonly kind?: 'proportion' | 'rate'
    readonly target?: number
    readonly levels?: readonly number[]
    readonly winsorize?: number
    readonly widening?: Funnel['widening']
  } = {},
): Funnel {
  const {
    kind = 'proportion',
    levels = [0.95, 0.998],
    winsorize = 0.1,
    widening = 'none',
  } = options
  const count = units.length
  if (count < 2) {
    throw new AppError(
      'stats.too_few_points',
      `A funnel needs at least 2 units, got ${count}.`,
      'Add units, or show the one on a chart over time.',
      { given: count, needed: 2 },
    )
  }
  units.forEach(({ numerator, denominator }, i) => {
    if (kind === 'proportion') requireFraction(numerator, denominator, i)
    else {
      requireNumber('The numerators', numerator, 'a whole count', i)
      requireNumber('The denominators', denominator, 'positive', i)
    }
  })
  levels.forEach(requireLevel)
  requireNumber('The share to winsorise', winsorize, 'not negative')
  requireNumber('What is left after winsorising', 0.5 - winsorize, 'positive')
  const events = units.reduce((sum, u) => sum + u.numerator, 0)
  const cases = units.reduce((sum, u) => sum + u.denominator, 0)
  const target = options.target ?? events / cases
  requireNumber('The target', target, kind === 'proportion' ? 'a share' : 'not negative')
  const unitVariance = kind === 'proportion' ? target * (1 - target) : target
  if (!(unitVariance >= 1e-100)) {
    throw new AppError(
      'stats.constant',
      `The target is ${target}, so chance alone cannot move a unit and there is no funnel.`,
      'Give a target between the ends, or collect until something has happened.',
      { target },
    )
  }
  const variances = units.map((u) => unitVariance / u.denominator)
  const values = units.map((u) => u.numerator / u.denominator)
  const z = values.map((y, i) => (y - target) / Math.sqrt(variances[i]!))
  const meanSquare = (list: readonly number[]) => list.reduce((sum, x) => sum + x * x, 0) / count
  const phi = meanSquare(winsorized(z, Math.floor(winsorize * count + 1e-9)))
  const weight = variances.reduce((sum, v) => sum + 1 / v, 0)
  const weightSquares = variances.reduce((sum, v) => sum + 1 / (v * v), 0)
  const tauSquared = Math.max(0, (count * phi - (count - 1)) / (weight - weightSquares / weight))

  const spread = (i: number) => {
    if (widening === 'additive') return Math.sqrt(variances[i]! + tauSquared)
    return Math.sqrt(variances[i]! * (widening === 'multiplicative' ? Math.max(1, phi) : 1))
  }
  const exact = kind === 'proportion' ? binomialFunnelLimit : poissonFunnelLimit
  const top = kind === 'proportion' ? 1 : Infinity
  const points = units.map(({ denominator }, i): FunnelPoint => {
    const limits = levels.map((level) => {
      const tail = (1 - level) / 2
      if (widening === 'none') {
        return {
          level,
          lower: exact(denominator, target, tail),
          upper: exact(denominator, target, 1 - tail),
        }
      }
      const half = -normalQuantile(tail) * spread(i)
      return { level, lower: Math.max(0, target - half), upper: Math.min(top, target + half) }
    })
    return { value: values[i]!, z: z[i]!, zUsed: (values[i]! - target) / spread(i), limits }
  })
  return {
    target,
    points,
    phi,
    phiRaw: meanSquare(z),
    tauSquared,
    overdispersed: phi > 1 + 2 * Math.sqrt(2 / count),
    widening,
  }
}

/** The k lowest set to the next one up, the k highest to the next one down. */
function winsorized(z: readonly number[], k: number): number[] {
  const ordered = [...z].sort((a, b) => a - b)
  const low = ordered[k]!
  const high = ordered[z.length - 1 - k]!
  return z.map((x) => Math.min(Math.max(x, low), high))
}
