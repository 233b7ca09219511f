import { type ChartLines, medianFit, type PhaseFit } from './chart-lines.ts'
import type { Columns } from './columns.ts'
import { fitCasesBetween, fitCounts, fitFractions } from './fit-counts.ts'
import {
  fitCumulativeSums,
  fitIndividuals,
  fitMovingRange,
  fitSubgroups,
  fitTimesBetween,
  fitWeightedAverage,
} from './fit-measurements.ts'
import type { PhaseSpan } from './phases.ts'
import type { AnalyzeOptions, ChartKind } from './types.ts'

/** Below this many points in a phase, limits are not drawn (common practice). */
export const FEWEST_FOR_LIMITS = 12
/** Below this many they are called trial limits. */
export const FEWEST_FOR_FULL_LIMITS = 20

/**
 * Centre line and limits of one phase, written into `lines`.
 *
 * @param kind    The chart.
 * @param columns The checked series.
 * @param span    The phase; centre and limits come from its points before `baseEnd`.
 * @param lines   Lines of the whole chart; only the positions of this phase are written.
 * @param options As for `analyze`, checked.
 * @returns What was fitted. With fewer than 12 points that count, or where sigma cannot be
 *   estimated, the centre is the median and there are no limits; an EWMA or CUSUM whose target and
 *   sigma are given needs no points to find them.
 */
export function fitPhase(
  kind: ChartKind,
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  options: AnalyzeOptions,
): PhaseFit {
  let n = 0
  for (let i = span.start; i < span.baseEnd; i++) n += columns.counts[i]!
  if (kind === 'run') return medianFit(lines, span, columns.counts, n, null)
  if (n < FEWEST_FOR_LIMITS && !isKnown(kind, options))
    return medianFit(lines, span, columns.counts, n, 'too-few')
  return (
    limitsOf(kind, columns, span, lines, n, options) ??
    medianFit(lines, span, columns.counts, n, 'no-spread')
  )
}

/** Whether level and sigma are given, so that no number of points is needed to find them. */
function isKnown(kind: ChartKind, options: AnalyzeOptions): boolean {
  return (
    (kind === 'ewma' || kind === 'cusum') &&
    options.target !== undefined &&
    options.sigma !== undefined
  )
}

function limitsOf(
  kind: Exclude<ChartKind, 'run'>,
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  options: AnalyzeOptions,
): PhaseFit | null {
  switch (kind) {
    case 'individuals':
      return fitIndividuals(columns, span, lines, n)
    case 'moving-range':
      return fitMovingRange(columns, span, lines, n)
    case 'xbar-s':
      return fitSubgroups('s', columns, span, lines, n)
    case 'xbar-r':
      return fitSubgroups('r', columns, span, lines, n)
    case 'c':
      return fitCounts(columns, span, lines, n, options)
    case 'p':
    case 'p-prime':
    case 'u':
    case 'u-prime':
      return fitFractions(kind, columns, span, lines, n, options)
    case 'g':
      return fitCasesBetween(columns, span, lines, n, options)
    case 't':
      return fitTimesBetween(columns, span, lines, n)
    case 'ewma':
      return fitWeightedAverage(columns, span, lines, n, options)
    case 'cusum':
      return fitCumulativeSums(columns, span, lines, n, options)
  }
}
