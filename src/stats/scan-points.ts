import { type RuleAutomaton, ruleAutomaton } from './rule-automaton.ts'
import type { PointRule, RuleSet } from './rules.ts'
import { lineTolerance, ZONES, type ZoneBorders, zoneOf } from './zones.ts'

/** Machines are pure functions of the rules, so one per rule set serves every chart. */
const automata = new WeakMap<RuleSet, RuleAutomaton>()

/**
 * The machine of a rule set, made once.
 *
 * @param ruleSet A published bundle.
 * @returns The shared machine.
 *
 * @example
 * automatonOf({ id: 'none', name: '', source: '', pointRules: [], phaseRules: [], needsLimits: false }).watched // => 0
 */
export function automatonOf(ruleSet: RuleSet): RuleAutomaton {
  let automaton = automata.get(ruleSet)
  if (automaton === undefined) {
    automaton = ruleAutomaton(ruleSet.pointRules)
    automata.set(ruleSet, automaton)
  }
  return automaton
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
  const tolerance = lineTolerance(center, sigma)
  if (!(sigma >= 0)) {
    for (let i = 0; i < n; i++) zones[i] = zoneOf(values[i]!, borders)
    return zones
  }
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
 * @param values Points in time order, gaps and points left out already taken out.
 * @param zones  Their zones, same length.
 * @param ruleSet The bundle to look for.
 * @returns For each point, bit r set where rule r of the bundle is met on that point.
 *
 * @example
 * scanPoints(new Float64Array(3), new Uint8Array([1, 4, 1]), { id: 'none', name: '', source: '', pointRules: [{ slug: 'x', shape: 'window', need: 1, of: 1, beyond: 3 }], phaseRules: [], needsLimits: true }) // => new Uint16Array([0, 1, 0])
 */
export function scanPoints(values: Float64Array, zones: Uint8Array, ruleSet: RuleSet): Uint16Array {
  const n = zones.length
  const hits = new Uint16Array(n)
  const automaton = automatonOf(ruleSet)
  if (automaton.watched !== 0) scanZones(zones, automaton, hits)
  for (const [index, rule] of ruleSet.pointRules.entries()) {
    if (rule.shape === 'trend') scanTrend(values, rule, 1 << index, hits)
    else if (rule.shape === 'alternate') scanAlternation(values, rule, 1 << index, hits)
  }
  return hits
}

function scanZones(zones: Uint8Array, automaton: RuleAutomaton, hits: Uint16Array): void {
  const n = zones.length
  let { next, met } = automaton
  let state = 0
  for (let i = 0; i < n; i++) {
    const zone = zones[i]!
    const target = next[state * ZONES + zone]!
    if (target >= 0) {
      state = target
    } else {
      state = automaton.step(state, zone)
      // Making a state may have moved the tables.
      next = automaton.next
      met = automaton.met
    }
    hits[i] = met[state]!
  }
}

type TrendRule = Extract<PointRule, { shape: 'trend' }>

function scanTrend(values: Float64Array, rule: TrendRule, bit: number, hits: Uint16Array): void {
  const { length } = rule
  const breaks = rule.ties === 'break'
  let up = 1
  let down = 1
  for (let i = 1; i < values.length; i++) {
    const change = values[i]! - values[i - 1]!
    if (change > 0) {
      up++
      down = 1
      if (up >= length) hits[i]! |= bit
    } else if (change < 0) {
      down++
      up = 1
      if (down >= length) hits[i]! |= bit
    } else if (breaks) {
      up = 1
      down = 1
    }
  }
}

type LengthRule = Extract<PointRule, { shape: 'side' | 'inside' | 'outside' | 'alternate' }>

function scanAlternation(
  values: Float64Array,
  rule: LengthRule,
  bit: number,
  hits: Uint16Array,
): void {
  let count = 1
  let previous = 0
  for (let i = 1; i < values.length; i++) {
    const change = values[i]! - values[i - 1]!
    if (change === 0) count = 1
    else count = change * previous < 0 ? count + 1 : 2
    previous = change
    if (count >= rule.length) hits[i]! |= bit
  }
}
