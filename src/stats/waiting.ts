import { orderChain } from './order-chain.ts'
import type { PointRule } from './rules.ts'
import { gaussLegendre } from './special/quadrature.ts'
import { ZONES_UPWARD, ZONES_WITH_TIES, zoneChain } from './zone-chain.ts'

/**
 * A chart waiting for its first signal: where it may be after each point, and with what chance.
 * `step` adds one point and returns the chance that it is the one that first signals; it may be
 * given other chances of the zones for that point and those after it.
 */
export interface Waiting {
  readonly step: (zones?: Float64Array) => number
  /** Chance that nothing has been signalled so far. */
  readonly left: () => number
}

/** Compiled rules: chains built once, then run for any distribution of the points. */
export interface CompiledRules {
  /** States kept; for the record of a benchmark. */
  readonly states: number
  /** @param zones Chance of each zone, from the lowest up; sums to 1. Eight, or nine with ties. */
  readonly wait: (zones: Float64Array) => Waiting
}

const ZONES_REACHED = ZONES_UPWARD.length

/**
 * Build the chain of a list of rules for counts, which can lie on the centre line. Rules about
 * order are left out: equal counts are common, and a step change is seldom found by them first.
 *
 * @param rules Any combination of point rules, at least one of them about zones.
 * @returns The compiled chain; its zones are `ZONES_WITH_TIES`.
 *
 * @example
 * compileCountRules([{ slug: 'shift', shape: 'side', length: 3 }]).states // => 5
 */
export function compileCountRules(rules: readonly PointRule[]): CompiledRules {
  const chain = zoneChain(rules, ZONES_WITH_TIES)
  return {
    states: chain.states,
    wait: (p) => waitOnZones(chain.next, chain.states, chain.start, p),
  }
}

/**
 * Build the chain of a list of rules.
 *
 * Zone rules alone need a finite chain. A rule about order also needs where in its zone the last
 * point lies: its chance density there is kept at Gauss–Legendre nodes (in the coordinate in which
 * a new point is uniform, so it is a smooth function close to a low polynomial) and integrated
 * exactly up to the degree of the nodes. Nothing is simulated.
 *
 * @param rules Any combination of point rules, at least one.
 * @returns The compiled chain.
 * @see Champ & Woodall 1987, Technometrics 29:393.
 *
 * @example
 * compileRules([{ slug: 'shift', shape: 'side', length: 3 }]).states // => 5
 */
export function compileRules(rules: readonly PointRule[]): CompiledRules {
  const zones = zoneChain(rules)
  const orders = orderChain(rules)
  if (orders.states === 1) {
    return {
      states: zones.states,
      wait: (p) => waitOnZones(zones.next, zones.states, zones.start, p),
    }
  }

  // States: zone state × order state × zone of the last point, as far as they can be reached.
  const keyOf = (zone: number, order: number, at: number) =>
    (zone * orders.states + order) * ZONES_REACHED + at
  const place = new Int32Array(zones.states * orders.states * ZONES_REACHED).fill(-1)
  const keys: number[] = []
  const indexOf = (key: number) => {
    const index = place[key]!
    if (index >= 0) return index
    place[key] = keys.length
    return keys.push(key) - 1
  }
  const first = new Int32Array(ZONES_REACHED)
  for (let at = 0; at < ZONES_REACHED; at++) {
    const zone = zones.next[zones.start * ZONES_REACHED + at]!
    first[at] = zone < 0 ? -1 : indexOf(keyOf(zone, 0, at))
  }
  // Nine ways on: seven to other zones, up within the zone, down within it (stored last).
  const ways = ZONES_REACHED + 1
  const next: number[] = []
  for (let i = 0; i < keys.length; i++) {
    const key = keys[i]!
    const at = key % ZONES_REACHED
    const order = Math.floor(key / ZONES_REACHED) % orders.states
    const zone = Math.floor(key / ZONES_REACHED / orders.states)
    const go = (to: number, fall: 0 | 1) => {
      const zoneThen = zones.next[zone * ZONES_REACHED + to]!
      const orderThen = orders.next[order * 2 + fall]!
      next.push(zoneThen < 0 || orderThen < 0 ? -1 : indexOf(keyOf(zoneThen, orderThen, to)))
    }
    for (let to = 0; to < ZONES_REACHED; to++) go(to, to >= at ? 0 : 1)
    go(at, 1)
  }
  const at = Uint8Array.from(keys, (key) => key % ZONES_REACHED)
  const table = Int32Array.from(next)
  return {
    states: keys.length,
    wait: (p) => waitOnOrder(table, ways, at, first, p),
  }
}

function waitOnZones(
  next: Int32Array,
  states: number,
  start: number,
  zones: Float64Array,
): Waiting {
  const width = zones.length
  let chances = zones
  let chance = new Float64Array(states)
  let after = new Float64Array(states)
  chance[start] = 1
  let left = 1
  return {
    left: () => left,
    step: (given) => {
      if (given !== undefined) chances = given
      after.fill(0)
      let signalled = 0
      for (let state = 0, edge = 0; state < states; state++) {
        const here = chance[state]!
        if (here === 0) {
          edge += width
          continue
        }
        for (let k = 0; k < width; k++, edge++) {
          const target = next[edge]!
          const share = here * chances[k]!
          if (target < 0) signalled += share
          else after[target]! += share
        }
      }
      const swap = chance
      chance = after
      after = swap
      left = 0
      for (let state = 0; state < states; state++) left += chance[state]!
      return signalled
    },
  }
}

/** Nodes per zone: the densities are smooth, and 6 nodes already leave an error below 1e-12. */
const NODES = 6

function integrationMatrix(): { weights: Float64Array; upTo: Float64Array } {
  // Nodes on (0, 1); upTo[i * NODES + j] is the integral from 0 to node i of the j-th Lagrange
  // polynomial, by a rule that is exact for it.
  const { nodes, weights } = gaussLegendre(NODES)
  const v = nodes.map((x) => (x + 1) / 2)
  const upTo = new Float64Array(NODES * NODES)
  for (let i = 0; i < NODES; i++) {
    for (let j = 0; j < NODES; j++) {
      let sum = 0
      for (let q = 0; q < NODES; q++) {
        const x = v[i]! * v[q]!
        let lagrange = 1
        for (let k = 0; k < NODES; k++) if (k !== j) lagrange *= (x - v[k]!) / (v[j]! - v[k]!)
        sum += (weights[q]! / 2) * v[i]! * lagrange
      }
      upTo[i * NODES + j] = sum
    }
  }
  return { weights: weights.map((w) => w / 2), upTo }
}

let integration: ReturnType<typeof integrationMatrix> | null = null

function waitOnOrder(
  next: Int32Array,
  ways: number,
  at: Uint8Array,
  first: Int32Array,
  fixed: Float64Array,
): Waiting {
  let zones = fixed
  integration ??= integrationMatrix()
  const { weights, upTo } = integration
  const states = at.length
  let density = new Float64Array(states * NODES)
  let after = new Float64Array(states * NODES)
  const flat = new Float64Array(states)
  const below = new Float64Array(NODES)
  let left = 1
  let started = false

  function begin(): number {
    started = true
    let signalled = 0
    left = 0
    for (let k = 0; k < ZONES_REACHED; k++) {
      const target = first[k]!
      if (target < 0) {
        signalled += zones[k]!
      } else {
        density.fill(zones[k]!, target * NODES, (target + 1) * NODES)
        left += zones[k]!
      }
    }
    return signalled
  }

  function step(given?: Float64Array): number {
    if (given !== undefined) zones = given
    if (!started) return begin()
    after.fill(0)
    flat.fill(0)
    let signalled = 0
    for (let state = 0; state < states; state++) {
      const base = state * NODES
      let mass = 0
      for (let j = 0; j < NODES; j++) mass += weights[j]! * density[base + j]!
      if (mass === 0) continue
      const zone = at[state]!
      const edges = state * ways
      for (let k = 0; k < ZONES_REACHED; k++) {
        if (k === zone) continue
        const target = next[edges + k]!
        const share = mass * zones[k]!
        if (target < 0) signalled += share
        else flat[target]! += share
      }
      const stay = zones[zone]!
      const up = next[edges + zone]!
      const down = next[edges + ZONES_REACHED]!
      let rising = 0
      for (let i = 0; i < NODES; i++) {
        let sum = 0
        for (let j = 0; j < NODES; j++) sum += upTo[i * NODES + j]! * density[base + j]!
        below[i] = sum
        rising += weights[i]! * sum
      }
      if (up < 0) signalled += stay * rising
      else for (let i = 0; i < NODES; i++) after[up * NODES + i]! += stay * below[i]!
      if (down < 0) signalled += stay * (mass - rising)
      else for (let i = 0; i < NODES; i++) after[down * NODES + i]! += stay * (mass - below[i]!)
    }
    left = 0
    for (let state = 0; state < states; state++) {
      const level = flat[state]!
      for (let i = 0; i < NODES; i++) {
        const value = after[state * NODES + i]! + level
        after[state * NODES + i] = value
        left += weights[i]! * value
      }
    }
    const swap = density
    density = after
    after = swap
    return signalled
  }

  return { step, left: () => left }
}
