import type { RuleSet } from './rules.ts'
import { type RunCounts, runCounts } from './run-counts.ts'
import { crossingsLimit, longestRunLimit, runsLimits } from './runs-distribution.ts'
import { scanPoints } from './scan-points.ts'
import { stretchesOf } from './stretches.ts'

/** A signal as positions among the points scanned, before it is put into words. */
interface RawSignal {
  readonly rule: string
  readonly members: readonly number[]
  readonly direction: 'up' | 'down' | null
  /** For rules about a whole phase. */
  readonly found?: number
  readonly allowed?: number
}

/** Fewest points off the centre line for run chart rules (common practice). */
export const FEWEST_USEFUL = 10

/** Signals of one phase. */
export interface PhaseSignals {
  readonly signals: readonly RawSignal[]
  /** Points off the centre line, counted only where a run chart rule set needs them. */
  readonly useful: number | null
}

/**
 * All signals of one phase.
 *
 * @param values  Points that count, in time order.
 * @param zones   Their zones.
 * @param ruleSet The bundle to look for.
 * @returns Signals in order of their first point, then of the rules in the bundle. A run chart
 *   bundle finds nothing with fewer than 10 useful points.
 *
 * @example
 * phaseSignals(new Float64Array(2), new Uint8Array([4, 1]), { id: 'none', name: '', source: '', pointRules: [], phaseRules: [], needsLimits: false }).signals // => []
 */
export function phaseSignals(
  values: Float64Array,
  zones: Uint8Array,
  ruleSet: RuleSet,
): PhaseSignals {
  const signals: RawSignal[] = []
  const counts = ruleSet.phaseRules.length > 0 ? runCounts(zones) : null
  const useful = counts?.useful ?? null
  if (counts !== null && counts.useful < FEWEST_USEFUL) return { signals, useful }

  if (ruleSet.pointRules.length > 0) {
    const hits = scanPoints(values, zones, ruleSet)
    let seen = 0
    for (let i = 0; i < hits.length; i++) seen |= hits[i]!
    for (const [index, rule] of ruleSet.pointRules.entries()) {
      const bit = 1 << index
      if ((seen & bit) === 0) continue
      for (const { members, direction } of stretchesOf(rule, bit, hits, zones, values)) {
        signals.push({ rule: rule.slug, members, direction })
      }
    }
  }
  if (counts !== null) signals.push(...wholePhase(counts, zones, ruleSet))
  const order = new Map(signals.map((signal, index) => [signal, index]))
  signals.sort((a, b) => a.members[0]! - b.members[0]! || order.get(a)! - order.get(b)!)
  return { signals, useful }
}

/**
 * Whether a phase has any signal at all; the same rules as `phaseSignals`, without the stretches.
 *
 * @param values  Points that count, in time order.
 * @param zones   Their zones.
 * @param ruleSet The bundle to look for.
 * @returns `true` where at least one rule is met.
 *
 * @example
 * hasSignal(new Float64Array(2), new Uint8Array([4, 1]), { id: 'none', name: '', source: '', pointRules: [], phaseRules: [], needsLimits: false }) // => false
 */
export function hasSignal(values: Float64Array, zones: Uint8Array, ruleSet: RuleSet): boolean {
  if (ruleSet.phaseRules.length > 0) {
    const counts = runCounts(zones)
    if (counts.useful < FEWEST_USEFUL) return false
    if (wholePhase(counts, zones, ruleSet).length > 0) return true
  }
  if (ruleSet.pointRules.length === 0) return false
  const hits = scanPoints(values, zones, ruleSet)
  for (let i = 0; i < hits.length; i++) if (hits[i] !== 0) return true
  return false
}

function wholePhase(counts: RunCounts, zones: Uint8Array, ruleSet: RuleSet): RawSignal[] {
  const found: RawSignal[] = []
  const everyUseful = () => {
    const members: number[] = []
    for (let i = 0; i < zones.length; i++) if (zones[i] !== 0) members.push(i)
    return members
  }
  for (const rule of ruleSet.phaseRules) {
    if (rule === 'longest-run') {
      const allowed = longestRunLimit(counts.useful)
      for (const run of counts.runs) {
        if (run.length <= allowed) continue
        const members: number[] = []
        for (let i = run.first; i <= run.last; i++) if (zones[i] !== 0) members.push(i)
        found.push({
          rule,
          members,
          direction: run.side > 0 ? 'up' : 'down',
          found: run.length,
          allowed,
        })
      }
    } else if (rule === 'crossings-too-few') {
      const allowed = crossingsLimit(counts.useful)
      if (counts.crossings < allowed) {
        found.push({
          rule,
          members: everyUseful(),
          direction: null,
          found: counts.crossings,
          allowed,
        })
      }
    } else if (counts.above > 0 && counts.below > 0) {
      const limits = runsLimits(counts.above, counts.below)
      const runs = counts.runs.length
      if (rule === 'runs-too-few' && runs < limits.fewest) {
        found.push({
          rule,
          members: everyUseful(),
          direction: null,
          found: runs,
          allowed: limits.fewest,
        })
      }
      if (rule === 'runs-too-many' && runs > limits.most) {
        found.push({
          rule,
          members: everyUseful(),
          direction: null,
          found: runs,
          allowed: limits.most,
        })
      }
    }
  }
  return found
}
