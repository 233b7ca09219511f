import type { RuleSet } from './rules.ts'
import { crossingsLimit, longestRunLimit, runsLimits } from './runs-distribution.ts'

/** Counts of a growing run chart, point by point, with the rules that look at all of it. */
export interface SidesTally {
  /** Takes these sides as the beginning of every chart. */
  readonly begin: (sides: readonly number[]) => void
  /** A new chart, with the same beginning. */
  readonly restart: () => void
  readonly add: (side: number) => void
  /** Points off the centre line so far. */
  readonly useful: () => number
  /** Whether a rule about the whole phase is met now. */
  readonly met: () => boolean
}

/**
 * A run chart that is looked at after every point: the same counts as `runCounts`, kept up to date
 * instead of counted afresh.
 *
 * @param rules Rules about a whole phase.
 * @param most  Points there will be at most.
 *
 * @example
 * sidesTally(['longest-run'], 9).useful() // => 0
 */
export function sidesTally(rules: RuleSet['phaseRules'], most: number): SidesTally {
  const limits = {
    longest: Int32Array.from({ length: most + 1 }, (_, n) => (n === 0 ? 0 : longestRunLimit(n))),
    crossings: Int32Array.from({ length: most + 1 }, (_, n) => (n === 0 ? 0 : crossingsLimit(n))),
    runs: new Map<number, { readonly fewest: number; readonly most: number }>(),
  }
  const start = { above: 0, below: 0, runs: 0, last: 0, length: 0, longest: 0 }
  let now = { ...start }
  const watches = {
    longest: rules.includes('longest-run'),
    crossings: rules.includes('crossings-too-few'),
    few: rules.includes('runs-too-few'),
    many: rules.includes('runs-too-many'),
  }

  function add(side: number): void {
    if (side === 0) return
    if (side > 0) now.above++
    else now.below++
    if (side === now.last) now.length++
    else {
      now.last = side
      now.length = 1
      now.runs++
    }
    if (now.length > now.longest) now.longest = now.length
  }

  function expected() {
    const key = now.above * (most + 1) + now.below
    let known = limits.runs.get(key)
    if (known === undefined) {
      known = runsLimits(now.above, now.below)
      limits.runs.set(key, known)
    }
    return known
  }

  return {
    begin(sides) {
      now = { above: 0, below: 0, runs: 0, last: 0, length: 0, longest: 0 }
      for (const side of sides) add(side)
      Object.assign(start, now)
    },
    restart: () => {
      Object.assign(now, start)
    },
    add,
    useful: () => now.above + now.below,
    met() {
      const useful = now.above + now.below
      if (watches.longest && now.longest > limits.longest[useful]!) return true
      if (watches.crossings && now.runs - 1 < limits.crossings[useful]!) return true
      if (!(watches.few || watches.many) || now.above === 0 || now.below === 0) return false
      const { fewest, most: highest } = expected()
      return (watches.few && now.runs < fewest) || (watches.many && now.runs > highest)
    },
  }
}
