import type { ChartLines, PhaseFit } from './chart-lines.ts'
import { fillLines } from './chart-lines.ts'
import type { Columns } from './columns.ts'
import { countLimits, type PointLimits, proportionLimits, rateLimits } from './count-limits.ts'
import { sigmaZ } from './laney.ts'
import type { PhaseSpan } from './phases.ts'
import { geometricLimits } from './rare-limits.ts'
import type { AnalyzeOptions } from './types.ts'

/** The pooled centre of a phase: all counts over all areas (or over the number of points). */
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

/**
 * C chart of one phase.
 *
 * @param columns Counts.
 * @param span    The phase.
 * @param lines   Written.
 * @param n       Points that count before `baseEnd`, >= 1.
 * @param options `smallCounts`.
 * @returns The fit.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.3.1.
 */
export function fitCounts(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  options: AnalyzeOptions,
): PhaseFit {
  const center = pooled(columns.values, null, columns.counts, span)
  const { exact, ...limits } = countLimits(center, options.smallCounts)
  fillLines(lines, span, { center, ...limits })
  return { n, center, sigma: limits.sigma, exact, without: null, median: false, scan: null }
}

/**
 * P, P′, U or U′ chart of one phase. The primed charts multiply sigma by sigma_z, the spread of
 * the standardised points, and are never exact.
 *
 * @param kind    Which of them.
 * @param columns Numerators and denominators.
 * @param span    The phase.
 * @param lines   Written.
 * @param n       Points that count before `baseEnd`, >= 1.
 * @param options `per`, `smallCounts`.
 * @returns The fit; without limits where no two neighbours count and a primed chart needs them.
 * @see NIST/SEMATECH e-Handbook 6.3.3; Laney 2002, Qual Eng 14:531.
 */
export function fitFractions(
  kind: 'p' | 'p-prime' | 'u' | 'u-prime',
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  options: AnalyzeOptions,
): PhaseFit | null {
  const areas = columns.denominators!
  const raw = pooled(columns.numerators!, areas, columns.counts, span)
  const proportion = kind === 'p' || kind === 'p-prime'
  const primed = kind === 'p-prime' || kind === 'u-prime'
  const scale = proportion ? 1 : (options.per ?? 1)
  const small = primed ? 'sigma' : options.smallCounts
  const limitsOf = (area: number): PointLimits =>
    proportion ? proportionLimits(raw, area, small) : rateLimits(raw, area, small)
  const center = raw * scale

  let widen = 1
  if (primed) {
    const z = standardised(columns, span, raw, proportion)
    const counts = columns.counts.subarray(span.start, span.end)
    widen = sigmaZ(z, counts, 0, span.baseEnd - span.start)
    if (!Number.isFinite(widen)) return null
  }

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
      limits = limitsOf(area)
      last = area
      exact ||= limits.exact
      const here = limits.sigma * widen * scale
      if (Number.isNaN(sigma)) sigma = here
      else if (here !== sigma) varies = true
    }
    const wide = limits.sigma * widen
    lines.sigma[i] = wide * scale
    if (limits.exact) {
      lines.lower[i] = limits.lower * scale
      lines.upper[i] = limits.upper * scale
    } else {
      lines.lower[i] = Math.max(0, raw - 3 * wide) * scale
      lines.upper[i] = (proportion ? Math.min(1, raw + 3 * wide) : raw + 3 * wide) * scale
    }
  }
  const same = varies ? Number.NaN : sigma
  return { n, center, sigma: same, exact, without: null, median: false, scan: null }
}

/**
 * Standardised points of a chart of counts: (value − centre) / sigma of that point.
 *
 * @param columns    The series.
 * @param span       The phase.
 * @param raw        Pooled centre per unit of area.
 * @param proportion Binomial sigma; otherwise Poisson.
 * @returns z of each point of the phase; NaN where it does not count, 0 where sigma is 0.
 */
export function standardised(
  columns: Columns,
  span: PhaseSpan,
  raw: number,
  proportion: boolean,
): Float64Array {
  const z = new Float64Array(span.end - span.start).fill(Number.NaN)
  for (let i = span.start; i < span.end; i++) {
    if (columns.counts[i] === 0) continue
    const area = columns.denominators?.[i] ?? 1
    const value = columns.numerators === null ? columns.values[i]! : columns.numerators[i]! / area
    const sigma = Math.sqrt((proportion ? raw * (1 - raw) : raw) / area)
    z[i - span.start] = sigma > 0 ? (value - raw) / sigma : 0
  }
  return z
}

/**
 * G chart of one phase.
 *
 * @param columns Cases between events.
 * @param span    The phase.
 * @param lines   Written.
 * @param n       Points that count before `baseEnd`, >= 1.
 * @param options `rareLimits`.
 * @returns The fit.
 * @see Benneyan 2001, Health Care Manag Sci 4:305.
 */
export function fitCasesBetween(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  options: AnalyzeOptions,
): PhaseFit {
  const mean = pooled(columns.values, null, columns.counts, span)
  const method = options.rareLimits ?? 'probability'
  const limits = geometricLimits(mean, method)
  fillLines(lines, span, limits)
  return {
    n,
    center: mean,
    sigma: limits.sigma,
    exact: method === 'probability',
    without: null,
    median: false,
    scan: null,
  }
}
