import { AppError } from '../errors.ts'
import { D2_PAIR } from './individuals-limits.ts'
import { MET_SHIFT, ROW_MASK } from './rule-automaton.ts'
import type { RuleSet } from './rules.ts'
import { automataOf } from './scan-points.ts'
import { requireSpan } from './special/check.ts'
import { type Stretch, stretchesOf } from './stretches.ts'
import { zoneOf } from './zones.ts'

/** An individuals chart of one column of numbers, without an object for each point. */
export interface ColumnChart {
  readonly center: number
  /** From the mean moving range; NaN with fewer than two points. */
  readonly sigma: number
  readonly lower: number
  readonly upper: number
  /** For each point, bit r set where rule r of the bundle is met on it. */
  readonly hits: Uint16Array
  /** All the bits that occur. */
  readonly seen: number
}

/** Zones by whole sigmas below and above the centre, −4 to 3. */
const ZONE_BY_SIGMA = Uint8Array.of(8, 7, 6, 5, 1, 2, 3, 4)

/**
 * Individuals limits and all rules of a bundle on one column: two passes over the numbers, nothing
 * allocated but the hits. For long columns and for many short ones; `analyze` answers the same
 * with objects.
 *
 * @param values  Points in time order; all finite (take gaps out first).
 * @param ruleSet A bundle of point rules, such as `RULE_SETS['shewhart-healthcare']`.
 * @param start   First position. Default 0.
 * @param end     One past the last. Default the length.
 * @param hits    Where to put the hits, at least `end` long; a new array by default.
 * @returns Limits, and hits at the positions of the points.
 * @throws AppError `stats.not_finite`, naming the position.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2.
 *
 * @example
 * individualsColumn(Float64Array.of(5, 5, 5), { id: 'none', name: '', source: '', pointRules: [], phaseRules: [], needsLimits: false }).center // => 5
 */
export function individualsColumn(
  values: Float64Array,
  ruleSet: RuleSet,
  start = 0,
  end = values.length,
  hits: Uint16Array = new Uint16Array(values.length),
): ColumnChart {
  requireSpan(values.length, start, end)
  const { center, sigma } = centerAndSigma(values, start, end)
  const known = Number.isFinite(center) && (end - start < 2 || Number.isFinite(sigma))
  if (!known) throw notFinite(values, start, end)
  const seen = sigma > 0 ? scanColumn(values, ruleSet, center, sigma, start, end, hits) : 0
  return { center, sigma, lower: center - 3 * sigma, upper: center + 3 * sigma, hits, seen }
}

/**
 * The signals behind the hits of a column: objects only for these.
 *
 * @param values  The column given to `individualsColumn`.
 * @param chart   Its result.
 * @param ruleSet The same bundle.
 * @param start   The same first position. Default 0.
 * @param end     The same end. Default the length.
 * @returns Rule slug and maximal stretch of each, positions counted from the start of the column.
 *
 * @example
 * columnSignals(Float64Array.of(1, 1), { center: 1, sigma: 0, lower: 1, upper: 1, hits: new Uint16Array(2), seen: 0 }, { id: 'none', name: '', source: '', pointRules: [], phaseRules: [], needsLimits: false }) // => []
 */
export function columnSignals(
  values: Float64Array,
  chart: ColumnChart,
  ruleSet: RuleSet,
  start = 0,
  end = values.length,
): (Stretch & { readonly rule: string })[] {
  requireSpan(values.length, start, end)
  const found: (Stretch & { readonly rule: string })[] = []
  if (chart.seen === 0) return found
  const part = values.subarray(start, end)
  const hits = chart.hits.subarray(start, end)
  const zones = Uint8Array.from(part, (value) => zoneOf(value, chart))
  for (const [index, rule] of ruleSet.pointRules.entries()) {
    if ((chart.seen & (1 << index)) === 0) continue
    for (const { members, direction } of stretchesOf(rule, 1 << index, hits, zones, part)) {
      found.push({ rule: rule.slug, members: members.map((i) => i + start), direction })
    }
  }
  return found
}

function centerAndSigma(values: Float64Array, start: number, end: number) {
  const n = end - start
  if (n < 1) return { center: Number.NaN, sigma: Number.NaN }
  // Differences from the first point keep the digits of a column with a large constant part.
  const origin = values[start]!
  let sum = 0
  let ranges = 0
  let previous = origin
  for (let i = start; i < end; i++) {
    const value = values[i]!
    sum += value - origin
    ranges += Math.abs(value - previous)
    previous = value
  }
  return { center: origin + sum / n, sigma: n < 2 ? Number.NaN : ranges / (n - 1) / D2_PAIR }
}

function scanColumn(
  values: Float64Array,
  ruleSet: RuleSet,
  center: number,
  sigma: number,
  start: number,
  end: number,
  hits: Uint16Array,
): number {
  const { zone, order } = automataOf(ruleSet.pointRules)
  const borders = { center, sigma, lower: center - 3 * sigma, upper: center + 3 * sigma }
  const scale = 1 / sigma
  // Closer than this to a line, `zoneOf` decides, which knows about rounding.
  const clear = 0.5 - 1e-8 - (1e-12 * Math.abs(center)) / sigma
  let zoneEdge = 0
  let orderEdge = 0
  let previous = values[start]!
  let seen = 0
  let i = start
  while (i < end) {
    // The inner loop calls nothing and its tables stay where they are, which halves its time. It is
    // left for one point where that is close to a line, or takes an edge not made yet.
    const zoneEdges = zone.edges
    const orderEdges = order.edges
    for (; i < end; i++) {
      const value = values[i]!
      const z = (value - center) * scale
      const whole = Math.floor(z)
      if (Math.abs(z - whole - 0.5) >= clear) break
      const at = ZONE_BY_SIGMA[whole < -4 ? 0 : whole > 3 ? 7 : whole + 4]!
      // RISE, TIE or FALL, without a branch that a random column would mispredict.
      const step = 1 - Math.sign(value - previous)
      const zoneThen = zoneEdges[(zoneEdge & ROW_MASK) + at]!
      const orderThen = orderEdges[(orderEdge & ROW_MASK) + step]!
      if ((zoneThen | orderThen) < 0) break
      zoneEdge = zoneThen
      orderEdge = orderThen
      previous = value
      const met = (zoneThen | orderThen) >> MET_SHIFT
      hits[i] = met
      seen |= met
    }
    if (i < end) {
      const value = values[i]!
      zoneEdge = zone.step(zoneEdge & ROW_MASK, zoneOf(value, borders))
      orderEdge = order.step(orderEdge & ROW_MASK, 1 - Math.sign(value - previous))
      previous = value
      const met = (zoneEdge | orderEdge) >> MET_SHIFT
      hits[i] = met
      seen |= met
      i++
    }
  }
  return seen
}

function notFinite(values: Float64Array, start: number, end: number): AppError {
  for (let i = start; i < end; i++) {
    if (Number.isFinite(values[i]!)) continue
    return new AppError(
      'stats.not_finite',
      `The value of point ${i + 1} of ${values.length} is ${values[i]}.`,
      'Take gaps out of the column first, and correct what is not a number.',
      { index: i },
    )
  }
  return end <= start
    ? new AppError('stats.empty', 'The column has no points.', 'Give at least one number.')
    : new AppError(
        'stats.out_of_range',
        'The numbers of the column are too large to add up.',
        'Give the column in a larger unit.',
      )
}
