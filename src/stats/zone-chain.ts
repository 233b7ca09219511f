import { MET_SHIFT, ROW_MASK, type RuleAutomaton, zoneAutomaton } from './rule-automaton.ts'
import type { PointRule } from './rules.ts'

/** Zones a continuous value can fall into, from the lowest to the highest: never on the centre line. */
export const ZONES_UPWARD = [8, 7, 6, 5, 1, 2, 3, 4] as const
/** The same for counts, which can lie on the centre line. */
export const ZONES_WITH_TIES = [8, 7, 6, 5, 0, 1, 2, 3, 4] as const

/** The waiting states of a set of zone rules: those in which nothing has been signalled yet. */
export interface ZoneChain {
  readonly states: number
  /** Before the first point. */
  readonly start: number
  /** Zones it distinguishes, from below. */
  readonly zones: readonly number[]
  /** next[state * zones.length + k] for the k-th zone from below; −1 where that point signals. */
  readonly next: Int32Array
}

/**
 * The smallest chain that tells how a set of zone rules waits for its first signal.
 *
 * All states that can be reached without a signal are listed from the rules themselves, then
 * states from which every future looks the same are merged (partition refinement).
 *
 * @param rules Point rules; those about order are ignored here.
 * @param zones `ZONES_UPWARD` (default) or `ZONES_WITH_TIES`.
 * @returns States 0 to `states` − 1.
 * @see Champ & Woodall 1987, Technometrics 29:393; Moore 1956 for the merging.
 *
 * @example
 * zoneChain([{ slug: 'beyond-limits', shape: 'window', need: 1, of: 1, beyond: 3 }]).states // => 1
 */
export function zoneChain(
  rules: readonly PointRule[],
  zones: readonly number[] = ZONES_UPWARD,
): ZoneChain {
  const automaton: RuleAutomaton = zoneAutomaton(rules)
  const rows: number[] = []
  // Only states reached without a signal are asked for, so the list grows just as far as needed.
  const order: number[] = [0]
  const place = new Map<number, number>([[0, 0]])
  for (let i = 0; i < order.length; i++) {
    for (const zone of zones) {
      const edge = automaton.step(order[i]!, zone)
      if (edge >> MET_SHIFT !== 0) {
        rows.push(-1)
        continue
      }
      const target = edge & ROW_MASK
      let at = place.get(target)
      if (at === undefined) {
        at = order.length
        place.set(target, at)
        order.push(target)
      }
      rows.push(at)
    }
  }
  return { ...merged(Int32Array.from(rows), order.length, zones.length), zones }
}

/** Merge states with the same future, by refining a partition until it no longer splits. */
function merged(next: Int32Array, count: number, width: number): Omit<ZoneChain, 'zones'> {
  let group = new Int32Array(count)
  let groups = 1
  for (;;) {
    const finer = new Int32Array(count)
    let ids = 0
    // Pairs (so far, group of the next target) become one number at a time, so keys stay exact.
    const tables = Array.from({ length: width }, () => new Map<number, number>())
    for (let state = 0; state < count; state++) {
      let key = group[state]!
      for (let k = 0; k < width; k++) {
        const target = next[state * width + k]!
        const pair = key * (groups + 1) + (target < 0 ? groups : group[target]!)
        const table = tables[k]!
        let id = table.get(pair)
        if (id === undefined) {
          id = table.size
          table.set(pair, id)
        }
        key = id
      }
      finer[state] = key
    }
    ids = tables.at(-1)!.size
    group = finer
    if (ids === groups) break
    groups = ids
  }
  const result = new Int32Array(groups * width)
  for (let state = 0; state < count; state++) {
    for (let k = 0; k < width; k++) {
      const target = next[state * width + k]!
      result[group[state]! * width + k] = target < 0 ? -1 : group[target]!
    }
  }
  return { states: groups, start: group[0]!, next: result }
}
