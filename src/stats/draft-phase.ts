import type { ChartLines, PhaseFit } from './chart-lines.ts'
import type { Columns } from './columns.ts'
import { fitPhase } from './fit-phase.ts'
import type { PhaseSpan } from './phases.ts'
import { type RuleSet, ruleSetOf } from './rules.ts'
import { zonesOf } from './scan-points.ts'
import type { AnalyzeOptions, ChartKind } from './types.ts'
import { zoneOf } from './zones.ts'

/**
 * Charts on which only the limits are watched. The points of a moving range, an EWMA or a CUSUM
 * lean on each other, and cases between events lie far more often below their mean than above it,
 * so runs and zones would cry wolf.
 */
export const LIMITS_ONLY: ReadonlySet<ChartKind> = new Set(['moving-range', 'g', 'ewma', 'cusum'])

/** Bundles with some rules taken out, each made once. */
const limitsOnly = new WeakMap<RuleSet, RuleSet>()
const noSpread = new WeakMap<RuleSet, RuleSet>()

/** Points that are all equal have no sigma to be unusually close within. */
function withoutSpread(ruleSet: RuleSet): RuleSet {
  let fewer = noSpread.get(ruleSet)
  if (fewer === undefined) {
    const pointRules = ruleSet.pointRules.filter((rule) => rule.shape !== 'inside')
    fewer = { ...ruleSet, pointRules }
    noSpread.set(ruleSet, fewer)
  }
  return fewer
}

/**
 * The rules of a bundle that a chart can be read with.
 *
 * @param kind    The chart.
 * @param ruleSet The bundle asked for.
 * @returns The bundle itself, or only the rule about limits.
 *
 * @example
 * rulesFor('g', ruleSetOf('none')).pointRules // => []
 */
export function rulesFor(kind: ChartKind, ruleSet: RuleSet): RuleSet {
  if (!LIMITS_ONLY.has(kind)) return ruleSet
  if (ruleSet.id === 'none') return ruleSet
  let fewer = limitsOnly.get(ruleSet)
  if (fewer === undefined) {
    const pointRules = ruleSetOf('zone-tests').pointRules.filter((r) => r.slug === 'beyond-limits')
    fewer = { ...ruleSet, pointRules, phaseRules: [] }
    limitsOnly.set(ruleSet, fewer)
  }
  return fewer
}

/** A phase with its lines drawn, ready to be read with rules. */
export interface PhaseDraft {
  readonly span: PhaseSpan
  readonly fit: PhaseFit
  readonly ruleSet: RuleSet
  /** Positions in the series of the points that rules see. */
  readonly positions: Int32Array
  /** Those points on the scale on which rules are read. */
  readonly values: Float64Array
  readonly zones: Uint8Array
}

/**
 * Fit one phase and find the zone of each of its points.
 *
 * @param kind    The chart.
 * @param columns The checked series.
 * @param span    The phase.
 * @param lines   Lines of the whole chart; written for this phase.
 * @param asked   The bundle asked for. Without limits a run chart's rules take its place.
 * @param options As for `analyze`, checked.
 * @returns The draft.
 */
export function draftPhase(
  kind: ChartKind,
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  asked: RuleSet,
  options: AnalyzeOptions,
): PhaseDraft {
  const fit = fitPhase(kind, columns, span, lines, options)
  const fallBack = fit.without !== null && asked.needsLimits
  let ruleSet = fallBack ? ruleSetOf('run-length-adjusted') : rulesFor(kind, asked)
  if (fit.sigma === 0) ruleSet = withoutSpread(ruleSet)
  const sees = (i: number) => columns.counts[i] === 1 && !Number.isNaN(lines.plotted[i]!)
  let used = 0
  for (let i = span.start; i < span.end; i++) if (sees(i)) used++
  const positions = new Int32Array(used)
  const values = new Float64Array(used)
  const scale = fit.scan?.of
  for (let i = span.start, k = 0; i < span.end; i++) {
    if (!sees(i)) continue
    positions[k] = i
    values[k++] = scale === undefined ? lines.plotted[i]! : scale(lines.plotted[i]!)
  }
  return {
    span,
    fit,
    ruleSet,
    positions,
    values,
    zones: zonesOfPhase(fit, lines, positions, values),
  }
}

function zonesOfPhase(
  fit: PhaseFit,
  lines: ChartLines,
  positions: Int32Array,
  values: Float64Array,
): Uint8Array {
  const used = positions.length
  if (used === 0) return new Uint8Array(0)
  if (fit.scan !== null) return zonesOf(values, fit.scan.borders)
  const first = positions[0]!
  const last = positions[used - 1]!
  const even = fit.median || sameLines(lines, first, last)
  if (even) return zonesOf(values, bordersAt(lines, first))
  const zones = new Uint8Array(used)
  for (let k = 0; k < used; k++) zones[k] = zoneOf(values[k]!, bordersAt(lines, positions[k]!))
  return zones
}

function bordersAt(lines: ChartLines, i: number) {
  return {
    center: lines.center[i]!,
    sigma: lines.sigma[i]!,
    lower: lines.lower[i]!,
    upper: lines.upper[i]!,
  }
}

function sameLines(lines: ChartLines, first: number, last: number): boolean {
  for (let i = first; i <= last; i++) {
    if (lines.lower[i] !== lines.lower[first] || lines.upper[i] !== lines.upper[first]) return false
    if (lines.sigma[i] !== lines.sigma[first]) return false
  }
  return true
}
