import { AppError } from '../errors.ts'
import { geometricLimits } from './rare-limits.ts'
import { ruleSetOf } from './rules.ts'
import { logGamma } from './special/log-gamma.ts'
import type { RuleSetId } from './types.ts'
import { type CompiledRules, compileCountRules, compileRules } from './waiting.ts'

const compiled = new Map<string, CompiledRules>()

/**
 * Chance that a T or G chart shows a change of the mean within t points: times exponential, cases
 * geometric, limits known from the mean before. A G chart signals beyond its limits only; on a T
 * chart, rules about order are counted where asked for: times are continuous, so their chain is exact.
 *
 * @param kind    `t`: times between events; `g`: cases between events.
 * @param ruleSet A rule set, by name.
 * @param before  Mean that the limits were drawn for, above 0.
 * @param after   Mean after the change, above 0.
 * @param horizon Points to look ahead, a whole number from 1 to 10,000.
 * @param order   `without` (default, quick) or `with` the rules about order (trends, alternation).
 * @returns chances[t − 1]: chance of a signal within t points of the change.
 * @throws AppError `stats.out_of_range`, `stats.unknown_rule_set`.
 * @see Nelson 1994, J Qual Technol 26:239; Benneyan 2001, Health Care Manag Sci 4:305.
 *
 * @example
 * rareSignalChances('t', 'none', 10, 20, 2) // => new Float64Array([0, 0])
 */
export function rareSignalChances(
  kind: 't' | 'g',
  ruleSet: RuleSetId,
  before: number,
  after: number,
  horizon: number,
  order: 'with' | 'without' = 'without',
): Float64Array {
  for (const value of [before, after, horizon])
    if (!(value > 0 && Number.isFinite(value)))
      throw new AppError(
        'stats.out_of_range',
        `A time to a signal on this chart cannot be worked out from ${value}.`,
        'Give means and a number of points above zero.',
        { before, after, horizon },
      )
  const all = ruleSetOf(ruleSet).pointRules
  const zoneRules = all.filter((r) => r.shape !== 'trend' && r.shape !== 'alternate')
  const rules = order === 'with' ? all : zoneRules
  const chances = new Float64Array(horizon)
  if (rules.length === 0) return chances
  if (kind === 'g') {
    const each = beyondGeometric(before, after)
    return chances.map((_, t) => 1 - (1 - each) ** (t + 1))
  }
  const key = `${ruleSet} ${order}`
  let chain = compiled.get(key)
  if (chain === undefined) {
    chain = order === 'with' ? compileRules(rules) : compileCountRules(rules)
    compiled.set(key, chain)
  }
  const zones = timeZones(before, after)
  // No time lies on the centre line: the chain of continuous points has no zone for it.
  const waiting = chain.wait(order === 'with' ? zones.filter((_, k) => k !== 4) : zones)
  let sum = 0
  for (let t = 0; t < horizon; t++) {
    sum += waiting.step()
    chances[t] = Math.min(1, sum)
  }
  return chances
}

function beyondGeometric(before: number, after: number): number {
  const { lower, upper } = geometricLimits(before, 'probability')
  const stay = after / (after + 1)
  return stay ** (upper + 1) + (lower > 0 ? 1 - stay ** lower : 0)
}

/** Chance of each zone, from the lowest up with none on the centre, for y = t^(1/3.6). */
function timeZones(before: number, after: number): Float64Array {
  const moment = (k: number) => Math.exp(logGamma(1 + k / 3.6))
  const scale = before ** (1 / 3.6)
  const center = scale * moment(1)
  const sigma = scale * Math.sqrt(moment(2) - moment(1) ** 2)
  const below = (k: number) => 1 - Math.exp(-(Math.max(0, center + k * sigma) ** 3.6) / after)
  const edges = [0, ...[-3, -2, -1, 0, 1, 2, 3].map(below), 1]
  const eight = edges.slice(1).map((p, k) => p - edges[k]!)
  return Float64Array.from([...eight.slice(0, 4), 0, ...eight.slice(4)])
}
