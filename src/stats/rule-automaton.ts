import type { PointRule } from './rules.ts'
import { reachOf, sideOf, ZONES } from './zones.ts'

/** A rule that depends only on the zones of the points, as a finite-state machine. */
interface ZoneMachine {
  /** How many states it has; they are 0 to size − 1, and 0 is the start. */
  readonly size: number
  readonly next: (state: number, zone: number) => number
  /** Whether the rule is met on arriving in this state. */
  readonly met: (state: number) => boolean
}

/**
 * Several zone rules run as one machine: a table lookup a point, whatever the number of rules.
 *
 * States are made when first reached (the product of many rules is large, the part a chart visits
 * is small); `closure` makes all of them.
 */
export interface RuleAutomaton {
  /** Bit r is set for a rule r (index into the rules given) that this machine watches. */
  readonly watched: number
  /** next[state * 9 + zone]; −1 where that step was never taken. Read through `step`. */
  next: Int32Array
  /** met[state]: bit r set where rule r is met on arriving there. */
  met: Uint16Array
  /** States made so far. */
  count: number
  /** Take a step, making the state it leads to where needed. */
  readonly step: (state: number, zone: number) => number
}

function bitsIn(n: number): number {
  let count = 0
  for (let rest = n; rest !== 0; rest &= rest - 1) count++
  return count
}

function machineOf(rule: PointRule): ZoneMachine | null {
  switch (rule.shape) {
    case 'side': {
      // State: run length so far, 0..length, above as it is, below with length added.
      const { length } = rule
      return {
        size: 2 * length + 1,
        next: (state, zone) => {
          const side = sideOf(zone)
          if (side === 0) return state === length || state === 2 * length ? state - 1 : state
          if (side > 0) return state > length ? 1 : Math.min(state + 1, length)
          return state > length ? Math.min(state + 1, 2 * length) : length + 1
        },
        met: (state) => state === length || state === 2 * length,
      }
    }
    case 'inside': {
      const { length } = rule
      return {
        size: length + 1,
        next: (state, zone) => (reachOf(zone) <= 1 ? Math.min(state + 1, length) : 0),
        met: (state) => state === length,
      }
    }
    case 'outside': {
      // State: points in a row further out than 1 sigma (0..length), how many of the latest are on
      // one side (0..length), and which side that is.
      const { length } = rule
      const width = length + 1
      return {
        size: width * width * 2,
        next: (state, zone) => {
          if (reachOf(zone) <= 1) return 0
          const above = sideOf(zone) > 0 ? 1 : 0
          const total = Math.min(Math.floor(state / (2 * width)) + 1, length)
          const same = (state & 1) === above
          const tail = same ? Math.min((Math.floor(state / 2) % width) + 1, length) : 1
          return (total * width + tail) * 2 + above
        },
        met: (state) =>
          Math.floor(state / (2 * width)) === length && Math.floor(state / 2) % width < length,
      }
    }
    case 'window': {
      // State: for each side, which of the latest of − 1 points were out there (newest in bit 0),
      // and in the last bit whether the rule is met on arrival.
      const { of, need, beyond } = rule
      const kept = of - 1
      const mask = (1 << kept) - 1
      return {
        size: 2 << (2 * kept),
        next: (state, zone) => {
          const side = reachOf(zone) > beyond ? sideOf(zone) : 0
          const up = ((state >> (kept + 1)) << 1) | (side > 0 ? 1 : 0)
          const down = (((state >> 1) & mask) << 1) | (side < 0 ? 1 : 0)
          const met = bitsIn(up) >= need || bitsIn(down) >= need ? 1 : 0
          return ((((up & mask) << kept) | (down & mask)) << 1) | met
        },
        met: (state) => (state & 1) === 1,
      }
    }
    case 'trend':
    case 'alternate':
      return null
  }
}

/**
 * Build the machine of a list of rules. Rules about order (trend, alternation) do not depend on
 * zones and are left to the pass over the points.
 *
 * @param rules Point rules; at most 16.
 * @returns A machine with its start state (number 0) made.
 * @see Champ & Woodall 1987, Technometrics 29:393, for the idea of runs rules as states.
 *
 * @example
 * ruleAutomaton([{ slug: 'shift', shape: 'side', length: 8 }]).watched // => 1
 */
export function ruleAutomaton(rules: readonly PointRule[]): RuleAutomaton {
  const machines: {
    readonly machine: ZoneMachine
    readonly bit: number
    readonly radix: number
  }[] = []
  let watched = 0
  let radix = 1
  for (const [index, rule] of rules.entries()) {
    const machine = machineOf(rule)
    if (machine === null) continue
    machines.push({ machine, bit: 1 << index, radix })
    radix *= machine.size
    watched |= 1 << index
  }

  const keys: number[] = []
  const ids = new Map<number, number>()
  const automaton: RuleAutomaton = {
    watched,
    next: new Int32Array(64 * ZONES).fill(-1),
    met: new Uint16Array(64),
    count: 0,
    step,
  }

  function idOf(key: number): number {
    const known = ids.get(key)
    if (known !== undefined) return known
    const id = automaton.count++
    if (id === automaton.met.length) {
      const next = new Int32Array(automaton.next.length * 2).fill(-1)
      next.set(automaton.next)
      automaton.next = next
      const met = new Uint16Array(automaton.met.length * 2)
      met.set(automaton.met)
      automaton.met = met
    }
    ids.set(key, id)
    keys.push(key)
    let met = 0
    for (const { machine, bit, radix: place } of machines) {
      if (machine.met(Math.floor(key / place) % machine.size)) met |= bit
    }
    automaton.met[id] = met
    return id
  }

  function step(state: number, zone: number): number {
    const known = automaton.next[state * ZONES + zone]!
    if (known >= 0) return known
    const key = keys[state]!
    let target = 0
    for (const { machine, radix: place } of machines) {
      target += place * machine.next(Math.floor(key / place) % machine.size, zone)
    }
    const id = idOf(target)
    automaton.next[state * ZONES + zone] = id
    return id
  }

  idOf(0)
  return automaton
}
