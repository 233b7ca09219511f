import {
  FALL,
  MET_SHIFT,
  orderAutomaton,
  RISE,
  ROW_MASK,
  type RuleAutomaton,
  TIE,
  zoneAutomaton,
} from './rule-automaton.ts'
import type { PointRule, RuleSet } from './rules.ts'
import { lineTolerance, type ZoneBorders, zoneOf } from './zones.ts'

/** The two machines of a list of rules: one reads zones, the other rises and falls. */
export interface Automata {
  readonly zone: RuleAutomaton
  readonly order: RuleAutomaton
}

/** Machines are pure functions of the rules, so one pair per list of rules serves every chart. */
const kept = new WeakMap<readonly PointRule[], Automata>()

/**
 * The machines of a list of rules, made once.
 *
 * @param rules Point rules; at most 11.
 * @returns The shared machines.
 *
 * @example
 * automataOf([]).zone.watched // => 0
 */
export function automataOf(rules: readonly PointRule[]): Automata {
  let automata = kept.get(rules)
  if (automata === undefined) {
    automata = { zone: zoneAutomaton(rules), order: orderAutomaton(rules) }
    kept.set(rules, automata)
  }
  return automata
}

/**
 * The zones of a stretch of points that share one centre and one pair of limits.
 *
 * @param values  Points in time order, in the chart's unit; all finite.
 * @param borders Centre, sigma and limits, in the same unit.
 * @returns One zone a point, as `zoneOf` gives it.
 *
 * @example
 * Array.from(zonesOf(new Float64Array([1, 5, -9]), { center: 0, sigma: 2, lower: -6, upper: 6 })) // => [1, 3, 8]
 */
export function zonesOf(values: Float64Array, borders: ZoneBorders): Uint8Array {
  const n = values.length
  const zones = new Uint8Array(n)
  const { center, sigma } = borders
  if (!(sigma >= 0)) {
    for (let i = 0; i < n; i++) zones[i] = zoneOf(values[i]!, borders)
    return zones
  }
  const tolerance = lineTolerance(center, sigma)
  const one = sigma + tolerance
  const two = 2 * sigma + tolerance
  const top = borders.upper + tolerance
  const bottom = borders.lower - tolerance
  for (let i = 0; i < n; i++) {
    const value = values[i]!
    const distance = value - center
    if (distance > tolerance) {
      zones[i] = value > top ? 4 : 1 + (distance > one ? 1 : 0) + (distance > two ? 1 : 0)
    } else if (distance < -tolerance) {
      zones[i] = value < bottom ? 8 : 5 + (distance < -one ? 1 : 0) + (distance < -two ? 1 : 0)
    }
  }
  return zones
}

/**
 * One pass over the points of a phase for all point rules at once.
 *
 * @param values  Points in time order, gaps and points left out already taken out.
 * @param zones   Their zones, same length.
 * @param ruleSet The bundle to look for.
 * @returns For each point, bit r set where rule r of the bundle is met on that point.
 *
 * @example
 * scanPoints(new Float64Array(3), new Uint8Array([1, 4, 1]), { id: 'none', name: '', source: '', pointRules: [{ slug: 'x', shape: 'window', need: 1, of: 1, beyond: 3 }], phaseRules: [], needsLimits: true }) // => new Uint16Array([0, 1, 0])
 */
export function scanPoints(values: Float64Array, zones: Uint8Array, ruleSet: RuleSet): Uint16Array {
  const n = zones.length
  const hits = new Uint16Array(n)
  const { zone, order } = automataOf(ruleSet.pointRules)
  // Edges of the table: −1 would be one not made yet, so it is never kept here.
  let zoneEdge = 0
  let orderEdge = 0
  let previous = n > 0 ? values[0]! : 0
  for (let i = 0; i < n; i++) {
    const value = values[i]!
    const step = value > previous ? RISE : value < previous ? FALL : TIE
    previous = value
    // Reading the tables from their owners each time is what lets them grow on the way.
    const zoneRow = zoneEdge & ROW_MASK
    zoneEdge = zone.edges[zoneRow + zones[i]!]!
    if (zoneEdge < 0) zoneEdge = zone.step(zoneRow, zones[i]!)
    const orderRow = orderEdge & ROW_MASK
    orderEdge = order.edges[orderRow + step]!
    if (orderEdge < 0) orderEdge = order.step(orderRow, step)
    hits[i] = (zoneEdge | orderEdge) >> MET_SHIFT
  }
  return hits
}
