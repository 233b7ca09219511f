import { sideOf } from './zones.ts'

/** A run: points in a row on one side of the centre line. */
export interface Run {
  /** 1 above, -1 below. */
  readonly side: 1 | -1
  /** Positions of its first and last point among the points counted. */
  readonly first: number
  readonly last: number
  /** Points in it, those on the centre line left out. */
  readonly length: number
}

/** What a run chart's rules count. */
export interface RunCounts {
  /** Points not on the centre line. */
  readonly useful: number
  readonly above: number
  readonly below: number
  readonly runs: readonly Run[]
  /** Times the line crosses the centre: one fewer than the runs. */
  readonly crossings: number
  /** Points in the longest run; 0 without useful points. */
  readonly longest: number
}

/**
 * Runs about the centre line. A point on the line is passed over: it neither ends a run nor adds
 * to it.
 *
 * @param zones Zones of the points in time order (only the side matters).
 * @returns The counts.
 * @see Perla, Provost & Murray 2011, BMJ Qual Saf 20:46.
 *
 * @example
 * runCounts(new Uint8Array([1, 0, 1, 5])).longest // => 2
 */
export function runCounts(zones: Uint8Array): RunCounts {
  const runs: { side: 1 | -1; first: number; last: number; length: number }[] = []
  let above = 0
  let below = 0
  let longest = 0
  for (let i = 0; i < zones.length; i++) {
    const side = sideOf(zones[i]!)
    if (side === 0) continue
    if (side > 0) above++
    else below++
    let run = runs.at(-1)
    if (run === undefined || run.side !== side) {
      run = { side, first: i, last: i, length: 0 }
      runs.push(run)
    }
    run.last = i
    run.length++
    if (run.length > longest) longest = run.length
  }
  return {
    useful: above + below,
    above,
    below,
    runs,
    crossings: Math.max(0, runs.length - 1),
    longest,
  }
}
