import { AppError } from '../errors.ts'
import { binomialMasses, poissonMasses } from './chance-draws.ts'
import { type PointLimits, proportionLimits, rateLimits } from './count-limits.ts'
import { type PointRule, ruleSetOf } from './rules.ts'
import { runLengthDistribution } from './run-length.ts'
import { longestRunLimit } from './runs-distribution.ts'
import { normalCdf } from './special/normal.ts'
import type { RuleSetId } from './types.ts'
import { type CompiledRules, compileCountRules } from './waiting.ts'
import { ZONES_WITH_TIES } from './zone-chain.ts'
import { zoneOf } from './zones.ts'

/** How long a chart takes to show a change that is really there. */
export interface TimeToSignal {
  /** chances[t − 1]: chance of a signal within t points of the change. */
  readonly chances: Float64Array
  /** Fewest points with a chance of at least 50, 80 and 90 %; `null` past the horizon. */
  readonly median: number | null
  readonly pointsFor80: number | null
  readonly pointsFor90: number | null
  /** One plain sentence. */
  readonly text: string
}

/** A change of level on a chart of proportions or rates. */
export interface CountChange {
  /** `p`: proportions of items; `u`: events per unit of area. */
  readonly kind: 'p' | 'u'
  /** Level that the limits were drawn for: a proportion 0–1, or a rate per unit of area >= 0. */
  readonly before: number
  /** Level after the change. */
  readonly after: number
  /** Items or area at each point: one number, or a list that is gone through again and again. */
  readonly denominators: number | readonly number[]
  readonly smallCounts?: 'exact' | 'sigma'
}

/**
 * How long until a chart of measurements shows a shift of its mean: limits known, points
 * independent and normal, counted from the first point after the change.
 *
 * For `run-length-adjusted` only the longest run is looked at, with the limit for the points since
 * the change, since crossings need the points before it.
 *
 * @param ruleSet A rule set, by name.
 * @param shift   Change of the mean in sigmas of one point.
 * @param horizon Points to look ahead, a whole number from 1 to 10,000. Default 400.
 * @returns Chances by point, and the points for 50, 80 and 90 %.
 * @throws AppError `stats.out_of_range`, `stats.unknown_rule_set`.
 * @see Champ & Woodall 1987, Technometrics 29:393.
 *
 * @example
 * timeToSignal('zone-tests', 1.5).median // => 4
 */
export function timeToSignal(ruleSet: RuleSetId, shift: number, horizon = 400): TimeToSignal {
  checkHorizon(horizon)
  const rules = ruleSetOf(ruleSet)
  if (rules.id === 'none') return summary(new Float64Array(horizon))
  if (rules.id === 'run-length-adjusted') return summary(longestRunChances(shift, horizon))
  const chances = runLengthDistribution(rules.pointRules, horizon, shift)
  return summary(cumulated(chances))
}

/**
 * How long until a P or U chart shows a change of level, from its denominators: the chance of each
 * zone is binomial or Poisson, and its limits are those the chart would draw (exact where counts
 * are small). Rules about order are left out.
 *
 * @param ruleSet A rule set with limits, by name.
 * @param change  Levels before and after, and denominators.
 * @param horizon Points to look ahead, a whole number from 1 to 10,000. Default 400.
 * @returns Chances by point, and the points for 50, 80 and 90 %.
 * @throws AppError `stats.out_of_range`, `stats.unknown_rule_set`.
 * @see NIST/SEMATECH e-Handbook 6.3.3; Champ & Woodall 1987, Technometrics 29:393.
 *
 * @example
 * timeToCountSignal('zone-tests', { kind: 'p', before: 0.2, after: 0.2, denominators: 50 }, 1).chances.length // => 1
 */
export function timeToCountSignal(
  ruleSet: RuleSetId,
  change: CountChange,
  horizon = 400,
): TimeToSignal {
  checkHorizon(horizon)
  const { pointRules } = ruleSetOf(ruleSet)
  const zoneRules = pointRules.filter((r) => r.shape !== 'trend' && r.shape !== 'alternate')
  if (zoneRules.length === 0) return summary(new Float64Array(horizon))
  return summary(countChances(compiledFor(zoneRules), change, horizon))
}

/**
 * The denominator at each point with which a P or U chart would show a change within so many
 * points with a chance of at least 80 %.
 *
 * @param ruleSet A rule set with limits, by name.
 * @param change  Levels before and after.
 * @param points  Points that may pass, a whole number from 1 to 10,000.
 * @param share   Chance asked for, above 0 and below 1. Default 0.8.
 * @returns Items or area at each point, a whole number; `null` where 1,000,000 is not enough.
 * @throws AppError `stats.out_of_range`, `stats.unknown_rule_set`.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.3.
 *
 * @example
 * denominatorForSignal('zone-tests', { kind: 'p', before: 0.2, after: 0.2 }, 1, 0.9) // => null
 */
export function denominatorForSignal(
  ruleSet: RuleSetId,
  change: Omit<CountChange, 'denominators'>,
  points: number,
  share = 0.8,
): number | null {
  checkHorizon(points)
  if (!(share > 0 && share < 1)) throw outOfRange('the chance', share, 'above 0 and below 1')
  const enough = (denominators: number) =>
    timeToCountSignal(ruleSet, { ...change, denominators }, points).chances[points - 1]! >= share
  if (change.before === change.after) return null
  let high = 1
  while (!enough(high)) {
    high *= 2
    if (high > 1_000_000) return null
  }
  // Chances climb in small steps back and forth, as counts do; the search takes the overall climb.
  let low = high / 2
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (enough(middle)) high = middle
    else low = middle
  }
  return high
}

const compiled = new Map<string, CompiledRules>()

function compiledFor(rules: readonly PointRule[]): CompiledRules {
  const key = JSON.stringify(rules)
  let chain = compiled.get(key)
  if (chain === undefined) {
    chain = compileCountRules(rules)
    compiled.set(key, chain)
  }
  return chain
}

function countChances(chain: CompiledRules, change: CountChange, horizon: number): Float64Array {
  const { denominators } = change
  const list = typeof denominators === 'number' ? [denominators] : denominators
  if (list.length === 0) throw outOfRange('the list of denominators', '[]', 'at least one number')
  const tables = new Map<number, Float64Array>()
  const zonesAt = (t: number) => {
    const n = list[t % list.length]!
    let zones = tables.get(n)
    if (zones === undefined) {
      zones = zoneChances(change, n)
      tables.set(n, zones)
    }
    return zones
  }
  const waiting = chain.wait(zonesAt(0))
  const chances = new Float64Array(horizon)
  for (let t = 0; t < horizon; t++) chances[t] = waiting.step(zonesAt(t))
  return cumulated(chances)
}

/** Chance of each zone at one point, after the change, about the limits from before it. */
function zoneChances(change: CountChange, n: number): Float64Array {
  const { kind, before, after } = change
  const most = kind === 'p' ? 1 : 1e9
  for (const [name, value] of [
    ['the level before', before],
    ['the level after', after],
  ] as const) {
    if (!(value >= 0 && value <= most)) throw outOfRange(name, value, `from 0 to ${most}`)
  }
  if (!(Number.isFinite(n) && n > 0)) throw outOfRange('a denominator', n, 'above zero')
  if (kind === 'p' && !Number.isInteger(n)) throw outOfRange('a denominator', n, 'a whole number')
  const limits =
    kind === 'p'
      ? proportionLimits(before, n, change.smallCounts)
      : rateLimits(before, n, change.smallCounts)
  const variance = kind === 'p' ? n * after * (1 - after) : n * after
  if (variance > 1e6) return normalZones(before, limits, after, Math.sqrt(variance) / n)
  const { first, masses } = kind === 'p' ? binomialMasses(n, after) : poissonMasses(n * after)
  const zones = new Float64Array(ZONES_WITH_TIES.length)
  const place = new Map<number, number>(ZONES_WITH_TIES.map((zone, k) => [zone, k]))
  for (let i = 0; i < masses.length; i++) {
    const zone = zoneOf((first + i) / n, { center: before, ...limits })
    zones[place.get(zone)!]! += masses[i]!
  }
  return zones
}

/** The same for counts so large that they are as good as normal; none lies on the centre line. */
function normalZones(before: number, limits: PointLimits, after: number, sd: number): Float64Array {
  const { sigma, lower, upper } = limits
  const borders = [
    lower,
    before - 2 * sigma,
    before - sigma,
    before,
    before + sigma,
    before + 2 * sigma,
    upper,
  ]
  const below = [0, ...borders.map((border) => normalCdf((border - after) / sd)), 1]
  const eight = below.slice(1).map((p, k) => Math.max(0, p - below[k]!))
  return Float64Array.from([...eight.slice(0, 4), 0, ...eight.slice(4)])
}

/** For each number of points, the chance that its longest run is longer than allowed for it. */
function longestRunChances(shift: number, horizon: number): Float64Array {
  const chances = new Float64Array(horizon)
  const byLimit = new Map<number, Float64Array>()
  for (let n = 10; n <= horizon; n++) {
    const limit = longestRunLimit(n)
    let within = byLimit.get(limit)
    if (within === undefined) {
      const rule: PointRule = { slug: 'longest-run', shape: 'side', length: limit + 1 }
      within = cumulated(runLengthDistribution([rule], horizon, shift))
      byLimit.set(limit, within)
    }
    chances[n - 1] = within[n - 1]!
  }
  return chances
}

function cumulated(chances: Float64Array): Float64Array {
  let sum = 0
  return chances.map((chance) => {
    sum += chance
    return Math.min(1, sum)
  })
}

function summary(chances: Float64Array): TimeToSignal {
  const reach = (share: number) => {
    const index = chances.findIndex((chance) => chance >= share)
    return index === -1 ? null : index + 1
  }
  const [median, pointsFor80, pointsFor90] = [reach(0.5), reach(0.8), reach(0.9)]
  return { chances, median, pointsFor80, pointsFor90, text: sentence(median, pointsFor90, chances) }
}

function sentence(median: number | null, most: number | null, chances: Float64Array): string {
  const points = (n: number) => `${n} ${n === 1 ? 'point' : 'points'}`
  if (median === null) {
    const percent = Math.round(100 * (chances.at(-1) ?? 0))
    return `Even ${points(chances.length)} after the change there would be a signal only ${percent} % of the time.`
  }
  const half = `Half of the time a signal would come within ${points(median)} of the change`
  return most === null
    ? `${half}; 9 times in 10 takes more than ${points(chances.length)}.`
    : `${half}, and 9 times in 10 within ${points(most)}.`
}

function checkHorizon(horizon: number): void {
  if (Number.isInteger(horizon) && horizon >= 1 && horizon <= 10_000) return
  throw outOfRange('the number of points', horizon, 'a whole number from 1 to 10,000')
}

function outOfRange(name: string, value: unknown, range: string): AppError {
  return new AppError(
    'stats.out_of_range',
    `To plan ahead ${name} cannot be ${value}.`,
    `It must be ${range}.`,
    { name, value },
  )
}
