import { AppError } from '../errors.ts'
import type { PointRule } from './rules.ts'
import { reachOf, sideOf, ZONES } from './zones.ts'

/** One rule as a finite-state machine over small whole numbers. State 0 is the start. */
interface Machine {
  readonly size: number
  readonly next: (state: number, symbol: number) => number
  /** Whether the rule is met on arriving in this state. */
  readonly met: (state: number) => boolean
}

/** Steps from one point to the next, as rules about order read them: 1 − sign of the change. */
export const RISE = 0
export const TIE = 1
export const FALL = 2
const STEPS = 3

/**
 * An edge of the table is one number: where the row of the next state begins in its low bits, the
 * rules met on arriving there above them. One look-up a point then gives both.
 */
export const MET_SHIFT = 20
export const ROW_MASK = (1 << MET_SHIFT) - 1
/** Rules that fit above the row. */
const MOST_RULES = 31 - MET_SHIFT

/**
 * Several rules run as one machine: a table look-up a point, whatever the number of rules.
 *
 * States are made when first reached: the product of many rules is large, the part a chart visits
 * is small.
 */
export interface RuleAutomaton {
  /** How many symbols it reads: 9 zones, or 3 steps. */
  readonly symbols: number
  /** Bit r is set for a rule r (index into the rules given) that this machine watches. */
  readonly watched: number
  /** edges[row + symbol], row 0 being the start; −1 where that step was never taken. */
  edges: Int32Array
  /** The edge from a row, made where needed. `edges` may be replaced by it. */
  readonly step: (row: number, symbol: number) => number
}

function bitsIn(n: number): number {
  let count = 0
  for (let rest = n; rest !== 0; rest &= rest - 1) count++
  return count
}

function zoneMachine(rule: PointRule): Machine | null {
  switch (rule.shape) {
    case 'side': {
      // State: run length so far, 0..length, above as it is, below with length added.
      const { length } = rule
      return {
        size: 2 * length + 1,
        next: (state, zone) => {
          const side = sideOf(zone)
          // On the line: the run stays as it is, but the rule is not met again by that point.
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

function orderMachine(rule: PointRule): Machine | null {
  if (rule.shape !== 'trend' && rule.shape !== 'alternate') return null
  // State: (steps that made the pattern so far × way of the last one) × met on arrival. Ways are
  // counted from TIE, so that 0, at the start and after a tie, is none.
  const { length } = rule
  const passesTies = rule.shape === 'trend' && rule.ties === 'skip'
  const goesOn = rule.shape === 'trend'
  const code = (steps: number, way: number, met: boolean) =>
    (steps * STEPS + way) * 2 + (met ? 1 : 0)
  return {
    size: length * STEPS * 2,
    next: (state, step) => {
      const steps = Math.floor(state / (2 * STEPS))
      const way = (state >> 1) % STEPS
      if (step === TIE) return passesTies ? code(steps, way, false) : 0
      const thisWay = (step - TIE + STEPS) % STEPS
      const follows = way !== 0 && (thisWay === way) === goesOn
      const now = follows ? Math.min(steps + 1, length - 1) : 1
      return code(now, thisWay, now === length - 1)
    },
    met: (state) => (state & 1) === 1,
  }
}

/**
 * The machine of those rules that look at zones.
 *
 * @param rules Point rules; at most 11.
 * @returns A machine over 9 zones with its start state (number 0) made.
 * @see Champ & Woodall 1987, Technometrics 29:393, for the idea of runs rules as states.
 *
 * @example
 * zoneAutomaton([{ slug: 'shift', shape: 'side', length: 8 }]).watched // => 1
 */
export function zoneAutomaton(rules: readonly PointRule[]): RuleAutomaton {
  return automatonOf(rules.map(zoneMachine), ZONES)
}

/**
 * The machine of those rules that look at rises and falls.
 *
 * @param rules Point rules; at most 11.
 * @returns A machine over `TIE`, `RISE` and `FALL` with its start state (number 0) made. It is fed
 *   from the second point on.
 *
 * @example
 * orderAutomaton([{ slug: 'trend', shape: 'trend', length: 6, ties: 'skip' }]).watched // => 1
 */
export function orderAutomaton(rules: readonly PointRule[]): RuleAutomaton {
  return automatonOf(rules.map(orderMachine), STEPS)
}

function automatonOf(given: readonly (Machine | null)[], symbols: number): RuleAutomaton {
  if (given.length > MOST_RULES) {
    throw new AppError(
      'stats.out_of_range',
      `A chart is read with up to ${MOST_RULES} rules at once, not ${given.length}.`,
      'Read it with fewer rules.',
      { rules: given.length },
    )
  }
  const parts: { readonly machine: Machine; readonly bit: number; readonly place: number }[] = []
  let watched = 0
  let radix = 1
  for (const [index, machine] of given.entries()) {
    if (machine === null) continue
    parts.push({ machine, bit: 1 << index, place: radix })
    radix *= machine.size
    watched |= 1 << index
  }

  const keys: number[] = [0]
  const ids = new Map<number, number>([[0, 0]])
  const automaton: RuleAutomaton = {
    symbols,
    watched,
    edges: new Int32Array(64 * symbols).fill(-1),
    step,
  }

  function idOf(key: number): number {
    const known = ids.get(key)
    if (known !== undefined) return known
    const id = keys.length
    keys.push(key)
    ids.set(key, id)
    if ((id + 1) * symbols > automaton.edges.length) {
      const edges = new Int32Array(automaton.edges.length * 2).fill(-1)
      edges.set(automaton.edges)
      automaton.edges = edges
    }
    return id
  }

  function step(row: number, symbol: number): number {
    const known = automaton.edges[row + symbol]!
    if (known >= 0) return known
    const key = keys[row / symbols]!
    let target = 0
    let met = 0
    for (const { machine, bit, place } of parts) {
      const then = machine.next(Math.floor(key / place) % machine.size, symbol)
      target += place * then
      if (machine.met(then)) met |= bit
    }
    const edge = (met << MET_SHIFT) | (idOf(target) * symbols)
    automaton.edges[row + symbol] = edge
    return edge
  }

  return automaton
}
