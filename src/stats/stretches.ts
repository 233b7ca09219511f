import type { PointRule } from './rules.ts'
import { reachOf, sideOf } from './zones.ts'

/** A maximal stretch of points that meets one rule. */
export interface Stretch {
  /** Positions among the points scanned, in order: only those that make the pattern. */
  readonly members: readonly number[]
  readonly direction: 'up' | 'down' | null
}

/**
 * The maximal stretches in which a rule is met: one for the whole of a long run, not one for every
 * window inside it.
 *
 * @param rule   The rule.
 * @param bit    Its bit in `hits`.
 * @param hits   Result of `scanPoints`.
 * @param zones  Zones of the same points.
 * @param values The same points, in the chart's unit.
 * @returns Stretches in order of time; empty where the rule is never met.
 *
 * @example
 * stretchesOf({ slug: 'beyond-limits', shape: 'window', need: 1, of: 1, beyond: 3 }, 1, new Uint16Array([0, 1, 1]), new Uint8Array([1, 4, 4]), new Float64Array([1, 9, 9])) // => [{ members: [1, 2], direction: 'up' }]
 */
export function stretchesOf(
  rule: PointRule,
  bit: number,
  hits: Uint16Array,
  zones: Uint8Array,
  values: Float64Array,
): Stretch[] {
  switch (rule.shape) {
    case 'window':
      return windowStretches(rule, bit, hits, zones)
    case 'side':
      return grown(bit, hits, (i) => sideOf(zones[i]!), 'pass', true)
    case 'inside':
      return grown(bit, hits, (i) => (reachOf(zones[i]!) <= 1 ? 1 : -1), 'end', false)
    case 'outside':
      return grown(bit, hits, (i) => (reachOf(zones[i]!) > 1 ? 1 : -1), 'end', false)
    case 'trend':
      return trendStretches(bit, hits, values, rule.ties)
    case 'alternate':
      return alternationStretches(bit, hits, values)
  }
}

/** Runs of points of one kind around each hit; kind 0 is passed over or ends the run. */
function grown(
  bit: number,
  hits: Uint16Array,
  kindOf: (i: number) => number,
  zero: 'pass' | 'end',
  directed: boolean,
): Stretch[] {
  const found: Stretch[] = []
  for (let i = 0; i < hits.length; i++) {
    if ((hits[i]! & bit) === 0) continue
    const kind = kindOf(i)
    const belongs = (k: number) => k === kind || (k === 0 && zero === 'pass')
    let start = i
    while (start > 0 && belongs(kindOf(start - 1))) start--
    let end = i
    while (end + 1 < hits.length && belongs(kindOf(end + 1))) end++
    const members: number[] = []
    for (let j = start; j <= end; j++) if (kindOf(j) === kind) members.push(j)
    found.push({ members, direction: directed ? (kind > 0 ? 'up' : 'down') : null })
    i = end
  }
  return found
}

function windowStretches(
  rule: Extract<PointRule, { shape: 'window' }>,
  bit: number,
  hits: Uint16Array,
  zones: Uint8Array,
): Stretch[] {
  const found: { members: number[]; direction: 'up' | 'down'; last: number }[] = []
  const isOut = (i: number, side: number) =>
    reachOf(zones[i]!) > rule.beyond && sideOf(zones[i]!) === side
  for (let i = 0; i < hits.length; i++) {
    if ((hits[i]! & bit) === 0) continue
    const from = Math.max(0, i - rule.of + 1)
    for (const side of [1, -1]) {
      const members: number[] = []
      for (let j = from; j <= i; j++) if (isOut(j, side)) members.push(j)
      if (members.length < rule.need) continue
      const direction = side > 0 ? 'up' : 'down'
      const open = found.findLast((s) => s.direction === direction)
      // Windows that share a point, or follow each other without a break, are one stretch.
      if (open !== undefined && open.last >= i - 1) {
        for (const j of members) if (j > open.members.at(-1)!) open.members.push(j)
        open.last = i
      } else if (open !== undefined && members[0]! <= open.members.at(-1)!) {
        for (const j of members) if (j > open.members.at(-1)!) open.members.push(j)
        open.last = i
      } else {
        found.push({ members, direction, last: i })
      }
    }
  }
  return found.map(({ members, direction }) => ({ members, direction }))
}

function trendStretches(
  bit: number,
  hits: Uint16Array,
  values: Float64Array,
  ties: 'skip' | 'break',
): Stretch[] {
  const found: Stretch[] = []
  const change = (i: number) => Math.sign(values[i]! - values[i - 1]!)
  for (let i = 1; i < hits.length; i++) {
    if ((hits[i]! & bit) === 0) continue
    const way = change(i)
    const goesOn = (j: number) => change(j) === way || (change(j) === 0 && ties === 'skip')
    let start = i
    while (start > 0 && goesOn(start)) start--
    let end = i
    while (end + 1 < hits.length && goesOn(end + 1)) end++
    const members = [start]
    for (let j = start + 1; j <= end; j++) if (change(j) === way) members.push(j)
    found.push({ members, direction: way > 0 ? 'up' : 'down' })
    i = end
  }
  return found
}

function alternationStretches(bit: number, hits: Uint16Array, values: Float64Array): Stretch[] {
  const found: Stretch[] = []
  const change = (i: number) => Math.sign(values[i]! - values[i - 1]!)
  for (let i = 1; i < hits.length; i++) {
    if ((hits[i]! & bit) === 0) continue
    let start = i
    while (start > 1 && change(start) * change(start - 1) < 0) start--
    let end = i
    while (end + 1 < hits.length && change(end) * change(end + 1) < 0) end++
    const members: number[] = []
    for (let j = start - 1; j <= end; j++) members.push(j)
    found.push({ members, direction: null })
    i = end
  }
  return found
}
