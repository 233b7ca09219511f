import { medianOf } from './median.ts'
import type { PhaseSpan } from './phases.ts'
import type { ZoneBorders } from './zones.ts'

/** Lines of a whole chart, one value a point; NaN where there is none. Filled phase by phase. */
export interface ChartLines {
  /** What is drawn: the point itself, or what is worked out from it. */
  readonly plotted: Float64Array
  readonly center: Float64Array
  readonly sigma: Float64Array
  readonly lower: Float64Array
  readonly upper: Float64Array
  /** The chart of spread below a chart of measurements. */
  readonly spread: SpreadLines
  /** The two sums of a CUSUM. */
  readonly high: Float64Array
  readonly low: Float64Array
}

/** Lines of a chart of spread. */
interface SpreadLines {
  readonly value: Float64Array
  readonly center: Float64Array
  readonly lower: Float64Array
  readonly upper: Float64Array
}

/** Why a phase has no limits although its chart has them. */
export type WithoutLimits = 'too-few' | 'no-spread'

/** What fitting one phase gives. */
export interface PhaseFit {
  /** Points that count towards the centre. */
  readonly n: number
  /** Whether centre and limits were given and do not rest on the points. */
  readonly known?: boolean
  /** NaN where no point counts. */
  readonly center: number
  /** NaN where there is none, or where it differs from point to point. */
  readonly sigma: number
  /** Whether some point has exact probability limits. */
  readonly exact: boolean
  /** `null` where limits were drawn, or the chart has none. */
  readonly without: WithoutLimits | null
  /** Whether the centre line is the median. */
  readonly median: boolean
  /** Where rules are read on another scale than the one drawn: that scale, and the borders on it. */
  readonly scan: { readonly of: (value: number) => number; readonly borders: ZoneBorders } | null
}

/**
 * Fresh lines for n points, all NaN.
 *
 * @param plotted What is drawn unless a fit replaces it; not copied.
 * @returns Arrays of the same length.
 *
 * @example
 * emptyLines(new Float64Array(2)).center.length // => 2
 */
export function emptyLines(plotted: Float64Array): ChartLines {
  const line = () => new Float64Array(plotted.length).fill(Number.NaN)
  return {
    plotted,
    center: line(),
    sigma: line(),
    lower: line(),
    upper: line(),
    spread: { value: line(), center: line(), lower: line(), upper: line() },
    high: line(),
    low: line(),
  }
}

/**
 * Write the same centre, sigma and limits for every point of a phase.
 *
 * @param lines   The chart's lines.
 * @param span    The phase.
 * @param borders What to write.
 *
 * @example
 * fillLines(emptyLines(new Float64Array(1)), { start: 0, end: 1, baseEnd: 1, frozenThrough: null, reason: null }, { center: 1, sigma: 1, lower: 0, upper: 2 }) // => undefined
 */
export function fillLines(lines: ChartLines, span: PhaseSpan, borders: ZoneBorders): void {
  lines.center.fill(borders.center, span.start, span.end)
  lines.sigma.fill(borders.sigma, span.start, span.end)
  lines.lower.fill(borders.lower, span.start, span.end)
  lines.upper.fill(borders.upper, span.start, span.end)
}

/**
 * A phase about its median, without limits.
 *
 * @param lines   The chart's lines; centre and limits of the phase are written.
 * @param span    The phase.
 * @param counts  1 where a point counts.
 * @param n       Points that count before `baseEnd`.
 * @param without Why there are no limits; `null` for a run chart.
 * @returns The fit.
 *
 * @example
 * medianFit(emptyLines(Float64Array.of(4)), { start: 0, end: 1, baseEnd: 1, frozenThrough: null, reason: null }, Uint8Array.of(1), 1, null).center // => 4
 */
export function medianFit(
  lines: ChartLines,
  span: PhaseSpan,
  counts: Uint8Array,
  n: number,
  without: WithoutLimits | null,
): PhaseFit {
  const used = new Float64Array(n)
  for (let i = span.start, k = 0; i < span.baseEnd; i++) {
    if (counts[i] === 1) used[k++] = lines.plotted[i]!
  }
  const none = Number.NaN
  const center = medianOf(used)
  fillLines(lines, span, { center, sigma: none, lower: none, upper: none })
  return { n, center, sigma: none, exact: false, without, median: true, scan: null }
}
