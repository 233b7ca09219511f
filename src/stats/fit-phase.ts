import type { Columns } from './columns.ts'
import { countLimits, type PointLimits, proportionLimits, rateLimits } from './count-limits.ts'
import { individualsCenter } from './individuals-limits.ts'
import { medianOf } from './median.ts'
import type { PhaseSpan } from './phases.ts'
import type { AnalyzeOptions, ChartKind } from './types.ts'

/** Below this many points in a phase, limits are not drawn (METHODS: rules of building). */
export const FEWEST_FOR_LIMITS = 12
/** Below this many they are called trial limits. */
export const FEWEST_FOR_FULL_LIMITS = 20

/** Lines of a whole chart, one value a point; NaN where there is none. Filled phase by phase. */
export interface ChartLines {
  readonly center: Float64Array
  readonly sigma: Float64Array
  readonly lower: Float64Array
  readonly upper: Float64Array
}

/** What fitting one phase gives. */
export interface PhaseFit {
  /** Points that count towards the centre. */
  readonly n: number
  /** NaN where no point counts, or where it differs from point to point. */
  readonly center: number
  /** NaN where there is none or it differs from point to point. */
  readonly sigma: number
  /** Whether some point has exact probability limits. */
  readonly exact: boolean
  /** Why no limits were drawn although the chart has them; `null` where they were. */
  readonly without: 'too-few' | 'no-spread' | null
  /** Whether the centre line is the median. */
  readonly median: boolean
}

/**
 * Fresh lines for n points, all NaN.
 *
 * @param n Points, >= 0.
 * @returns Four arrays of length n.
 *
 * @example
 * emptyLines(2).center.length // => 2
 */
export function emptyLines(n: number): ChartLines {
  const line = () => new Float64Array(n).fill(Number.NaN)
  return { center: line(), sigma: line(), lower: line(), upper: line() }
}

/**
 * Centre line and limits of one phase, written into `lines`.
 *
 * @param kind    The chart.
 * @param columns The checked series.
 * @param span    The phase; centre and limits come from its points before `baseEnd`.
 * @param lines   Lines of the whole chart; only the positions of this phase are written.
 * @param options `per` and `smallCounts` as in `AnalyzeOptions`.
 * @returns What was fitted. With fewer than 12 points that count, or where sigma cannot be
 *   estimated, the centre is the median and there are no limits.
 *
 * @example
 * fitPhase('run', { n: 1, values: new Float64Array([4]), numerators: null, denominators: null, subgroups: null, counts: new Uint8Array([1]), zeroDenominators: 0 }, { start: 0, end: 1, baseEnd: 1, frozenThrough: null, reason: null }, emptyLines(1), {}).center // => 4
 */
export function fitPhase(
  kind: ChartKind,
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  options: Pick<AnalyzeOptions, 'per' | 'smallCounts'>,
): PhaseFit {
  let n = 0
  for (let i = span.start; i < span.baseEnd; i++) n += columns.counts[i]!
  if (kind === 'run') return medianFit(columns, span, lines, n, null)
  if (n < FEWEST_FOR_LIMITS) return medianFit(columns, span, lines, n, 'too-few')

  switch (kind) {
    case 'individuals': {
      const { center, sigma } = individualsCenter(
        columns.values,
        columns.counts,
        span.start,
        span.baseEnd,
      )
      if (!Number.isFinite(sigma)) return medianFit(columns, span, lines, n, 'no-spread')
      fill(lines, span, center, sigma, center - 3 * sigma, center + 3 * sigma)
      return { n, center, sigma, exact: false, without: null, median: false }
    }
    case 'c': {
      const center = pooled(columns.values, null, columns.counts, span)
      const limits = countLimits(center, options.smallCounts)
      fill(lines, span, center, limits.sigma, limits.lower, limits.upper)
      return { n, center, sigma: limits.sigma, exact: limits.exact, without: null, median: false }
    }
    case 'p':
      return fractionFit(columns, span, lines, n, 1, (center, area) =>
        proportionLimits(center, area, options.smallCounts),
      )
    case 'u':
      return fractionFit(columns, span, lines, n, options.per ?? 1, (center, area) =>
        rateLimits(center, area, options.smallCounts),
      )
    default:
      return medianFit(columns, span, lines, n, 'too-few')
  }
}

function medianFit(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  without: PhaseFit['without'],
): PhaseFit {
  const used = new Float64Array(n)
  for (let i = span.start, k = 0; i < span.baseEnd; i++) {
    if (columns.counts[i] === 1) used[k++] = columns.values[i]!
  }
  const center = medianOf(used)
  fill(lines, span, center, Number.NaN, Number.NaN, Number.NaN)
  return { n, center, sigma: Number.NaN, exact: false, without, median: true }
}

function fractionFit(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  scale: number,
  limitsOf: (center: number, area: number) => PointLimits,
): PhaseFit {
  const areas = columns.denominators!
  const raw = pooled(columns.numerators!, areas, columns.counts, span)
  const center = raw * scale
  let exact = false
  let sigma = Number.NaN
  let varies = false
  // Neighbouring points often share a denominator, and exact limits are not free.
  let last = Number.NaN
  let limits: PointLimits | null = null
  for (let i = span.start; i < span.end; i++) {
    lines.center[i] = center
    const area = areas[i]!
    if (!(area > 0)) continue
    if (limits === null || area !== last) {
      limits = limitsOf(raw, area)
      last = area
      exact ||= limits.exact
      const here = limits.sigma * scale
      if (Number.isNaN(sigma)) sigma = here
      else if (here !== sigma) varies = true
    }
    lines.sigma[i] = limits.sigma * scale
    lines.lower[i] = limits.lower * scale
    lines.upper[i] = limits.upper * scale
  }
  return { n, center, sigma: varies ? Number.NaN : sigma, exact, without: null, median: false }
}

/** Sum of counts over sum of areas (or over the number of points where there is no area). */
function pooled(
  counts: Float64Array,
  areas: Float64Array | null,
  used: Uint8Array,
  span: PhaseSpan,
): number {
  let top = 0
  let bottom = 0
  for (let i = span.start; i < span.baseEnd; i++) {
    if (used[i] === 0) continue
    top += counts[i]!
    bottom += areas === null ? 1 : areas[i]!
  }
  return top / bottom
}

function fill(
  lines: ChartLines,
  span: PhaseSpan,
  center: number,
  sigma: number,
  lower: number,
  upper: number,
): void {
  lines.center.fill(center, span.start, span.end)
  lines.sigma.fill(sigma, span.start, span.end)
  lines.lower.fill(lower, span.start, span.end)
  lines.upper.fill(upper, span.start, span.end)
}
