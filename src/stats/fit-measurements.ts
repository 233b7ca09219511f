import { chartConstants, meanDeviationFactor } from './chart-constants.ts'
import type { ChartLines, PhaseFit } from './chart-lines.ts'
import { fillLines } from './chart-lines.ts'
import type { Columns } from './columns.ts'
import { cumulativeSums, weightedAverage } from './cumulative.ts'
import { D2_PAIR, individualsCenter } from './individuals-limits.ts'
import type { PhaseSpan } from './phases.ts'
import { timeFromTransformed, transformedTime } from './rare-limits.ts'
import { subgroupColumns, subgroupFit } from './subgroup-limits.ts'
import type { AnalyzeOptions } from './types.ts'

/** D4 for a range of two: 1 + 3 d3/d2, with d3² = 2 − 4/π. Printed as 3.267. */
const D4_PAIR = 1 + (3 * Math.sqrt(2 - D2_PAIR * D2_PAIR)) / D2_PAIR

/**
 * Individuals chart of one phase, with its moving ranges.
 *
 * @param columns Measurements.
 * @param span    The phase.
 * @param lines   Written.
 * @param n       Points that count before `baseEnd`.
 * @returns The fit; `null` where no two neighbours count.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2.
 */
export function fitIndividuals(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
): PhaseFit | null {
  const { counts } = columns
  const { center, sigma } = individualsCenter(lines.plotted, counts, span.start, span.baseEnd)
  if (!Number.isFinite(sigma)) return null
  fillLines(lines, span, { center, sigma, lower: center - 3 * sigma, upper: center + 3 * sigma })
  const { spread } = lines
  spread.center.fill(sigma * D2_PAIR, span.start, span.end)
  spread.lower.fill(0, span.start, span.end)
  spread.upper.fill(sigma * D2_PAIR * D4_PAIR, span.start, span.end)
  for (let i = span.start + 1; i < span.end; i++) {
    if (counts[i] === 1 && counts[i - 1] === 1) {
      spread.value[i] = Math.abs(lines.plotted[i]! - lines.plotted[i - 1]!)
    }
  }
  return { n, center, sigma, exact: false, without: null, median: false, scan: null }
}

/**
 * Moving-range chart of one phase: |x[i] − x[i−1]| about its mean, upper limit D4 times the mean.
 *
 * @param columns Measurements.
 * @param span    The phase.
 * @param lines   Written, `plotted` too.
 * @param n       Points that count before `baseEnd`.
 * @returns The fit; `null` where no two neighbours count.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2.
 */
export function fitMovingRange(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
): PhaseFit | null {
  const fit = fitIndividuals(columns, span, lines, n)
  if (fit === null) return null
  lines.plotted.set(lines.spread.value.subarray(span.start, span.end), span.start)
  const center = fit.sigma * D2_PAIR
  const sigma = (center * (D4_PAIR - 1)) / 3
  fillLines(lines, span, { center, sigma, lower: 0, upper: center * D4_PAIR })
  return { ...fit, center, sigma }
}

/**
 * X-bar chart of one phase with its S or R chart, for equal or varying subgroup sizes.
 *
 * @param spreadKind `s` or `r`.
 * @param columns    Subgroups.
 * @param span       The phase.
 * @param lines      Written.
 * @param n          Points that count before `baseEnd`.
 * @returns The fit; `null` where no subgroup has two measurements.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.1; ISO 7870-2.
 */
export function fitSubgroups(
  spreadKind: 's' | 'r',
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
): PhaseFit | null {
  const { start, end } = span
  const groups = subgroupColumns(columns.subgroups!.slice(start, end))
  const counts = columns.counts.subarray(start, end)
  const { center, sigma } = subgroupFit(groups, counts, 0, span.baseEnd - start, spreadKind)
  if (!Number.isFinite(sigma)) return null
  const { spread } = lines
  let first = Number.NaN
  let varies = false
  for (let i = start; i < end; i++) {
    lines.center[i] = center
    const size = groups.sizes[i - start]!
    if (!(size >= 1)) continue
    const here = sigma / Math.sqrt(size)
    if (Number.isNaN(first)) first = here
    else if (here !== first) varies = true
    lines.sigma[i] = here
    lines.lower[i] = center - 3 * here
    lines.upper[i] = center + 3 * here
    if (size < 2) continue
    if (spreadKind === 's') {
      const c4 = meanDeviationFactor(size)
      const wide = 3 * Math.sqrt(Math.max(0, 1 - c4 * c4))
      spread.value[i] = groups.deviations[i - start]!
      spread.center[i] = c4 * sigma
      spread.lower[i] = Math.max(0, c4 - wide) * sigma
      spread.upper[i] = (c4 + wide) * sigma
    } else {
      const { d2, D1, D2 } = chartConstants(size)
      spread.value[i] = groups.ranges[i - start]!
      spread.center[i] = d2 * sigma
      spread.lower[i] = D1 * sigma
      spread.upper[i] = D2 * sigma
    }
  }
  const same = varies ? Number.NaN : first
  return { n, center, sigma: same, exact: false, without: null, median: false, scan: null }
}

/**
 * T chart of one phase: an individuals chart of t^(1/3.6), drawn back on the scale of time. Rules
 * are read on the transformed scale, where the limits are even.
 *
 * @param columns Times between events.
 * @param span    The phase.
 * @param lines   Written.
 * @param n       Points that count before `baseEnd`.
 * @returns The fit; `null` where no two neighbours count.
 * @see Nelson 1994, J Qual Technol 26:239.
 */
export function fitTimesBetween(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
): PhaseFit | null {
  const times = columns.values.subarray(span.start, span.end)
  const y = times.map((time) => (Number.isNaN(time) ? time : transformedTime(time)))
  const counts = columns.counts.subarray(span.start, span.end)
  const { center, sigma } = individualsCenter(y, counts, 0, span.baseEnd - span.start)
  if (!Number.isFinite(sigma)) return null
  const lower = center - 3 * sigma
  const upper = center + 3 * sigma
  fillLines(lines, span, {
    center: timeFromTransformed(center),
    sigma: Number.NaN,
    lower: timeFromTransformed(lower),
    upper: timeFromTransformed(upper),
  })
  return {
    n,
    center: timeFromTransformed(center),
    sigma: Number.NaN,
    exact: false,
    without: null,
    median: false,
    // Below a negative lower limit no time can fall.
    scan: { of: transformedTime, borders: { center, sigma, lower, upper } },
  }
}

/** Level and sigma that an EWMA or CUSUM watches: given, or those of the individuals chart. */
function watched(
  columns: Columns,
  span: PhaseSpan,
  options: AnalyzeOptions,
): {
  target: number
  sigma: number
  known: boolean
  positions: number[]
  values: Float64Array
} | null {
  const own = individualsCenter(columns.values, columns.counts, span.start, span.baseEnd)
  const target = options.target ?? own.center
  const sigma = options.sigma ?? own.sigma
  if (!Number.isFinite(sigma) || !Number.isFinite(target)) return null
  const known = options.target !== undefined && options.sigma !== undefined
  const positions: number[] = []
  for (let i = span.start; i < span.end; i++) if (columns.counts[i] === 1) positions.push(i)
  const values = Float64Array.from(positions, (i) => columns.values[i]!)
  return { target, sigma, known, positions, values }
}

/**
 * EWMA chart of one phase, with time-varying limits.
 *
 * @param columns Measurements.
 * @param span    The phase.
 * @param lines   Written, `plotted` too.
 * @param n       Points that count before `baseEnd`.
 * @param options `lambda`, `L`, `target`, `sigma`.
 * @returns The fit; `null` where sigma can neither be given nor estimated.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4.
 */
export function fitWeightedAverage(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  options: AnalyzeOptions,
): PhaseFit | null {
  const level = watched(columns, span, options)
  if (level === null) return null
  const { target, sigma, known, positions, values } = level
  const ewma = weightedAverage(values, target, sigma, options.lambda ?? 0.2, options.L ?? 3)
  lines.plotted.fill(Number.NaN, span.start, span.end)
  lines.center.fill(target, span.start, span.end)
  for (const [k, i] of positions.entries()) {
    lines.plotted[i] = ewma.average[k]!
    lines.sigma[i] = ewma.sigma[k]!
    lines.lower[i] = ewma.lower[k]!
    lines.upper[i] = ewma.upper[k]!
  }
  return {
    n,
    known,
    center: target,
    sigma: Number.NaN,
    exact: false,
    without: null,
    median: false,
    scan: null,
  }
}

/**
 * CUSUM chart of one phase. Drawn about 0: the upper sum, or where it is larger the lower sum as a
 * negative number; limits ± h sigma.
 *
 * @param columns Measurements.
 * @param span    The phase.
 * @param lines   Written, `plotted` too.
 * @param n       Points that count before `baseEnd`.
 * @param options `k`, `h`, `target`, `sigma`.
 * @returns The fit; `null` where sigma can neither be given nor estimated.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.3.
 */
export function fitCumulativeSums(
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  n: number,
  options: AnalyzeOptions,
): PhaseFit | null {
  const level = watched(columns, span, options)
  if (level === null) return null
  const { target, sigma, known, positions, values } = level
  const sums = cumulativeSums(values, target, (options.k ?? 0.5) * sigma)
  const limit = (options.h ?? 5) * sigma
  fillLines(lines, span, { center: 0, sigma: limit / 3, lower: -limit, upper: limit })
  lines.plotted.fill(Number.NaN, span.start, span.end)
  for (const [k, i] of positions.entries()) {
    const high = sums.high[k]!
    const low = sums.low[k]!
    lines.high[i] = high
    lines.low[i] = low
    lines.plotted[i] = high >= low ? high : -low
  }
  return { n, known, center: 0, sigma, exact: false, without: null, median: false, scan: null }
}
