import { AppError } from '../errors.ts'
import { requireNumber } from './special/check.ts'

/** Where the centre line comes from: fixed beforehand, or the median of the same points. */
export type RunCenter = 'known' | 'median'

/** More useful points than this are left to simulation. */
const MOST_USEFUL = 4000

/**
 * Chances of r runs none of which is longer than `longest`, for r = 0, 1, 2, …, when nothing
 * changes.
 *
 * Runs are parts of a composition: n points in r runs of at most L each can be cut in as many ways
 * as n has compositions into r parts of 1 to L. With a known centre every sequence of sides is
 * equally likely; with the sample median half the points lie on each side, and the compositions of
 * the two halves are paired. Worked out with parts weighted by 2^−length, so nothing overflows.
 *
 * @param useful  Points not on the centre line, a whole number from 1 to 4,000.
 * @param longest Longest run allowed, a whole number >= 1.
 * @param center  `known`, or `median` of the same points (an odd point goes above).
 * @returns Probabilities by number of runs; they sum to P(longest run <= `longest`).
 * @throws AppError `stats.out_of_range`.
 * @see Anhøj & Wentzel-Larsen 2019, PLoS ONE 14:e0223233, for the joint distribution; the counting
 *   by compositions is worked out here.
 *
 * @example
 * boundedRuns(3, 2, 'known') // => [0, 0, 0.5, 0.25]
 */
export function boundedRuns(useful: number, longest: number, center: RunCenter): number[] {
  for (const [name, value] of [
    ['useful', useful],
    ['longest', longest],
  ] as const) {
    if (!Number.isInteger(value) || value < 1 || (name === 'useful' && value > MOST_USEFUL)) {
      throw new AppError(
        'stats.out_of_range',
        `Runs are counted for 1 to ${MOST_USEFUL} points and runs of 1 or more, got ${name} ${value}.`,
        'Give whole numbers in that range, or simulate.',
        { name, value },
      )
    }
  }
  if (center === 'known') {
    const parts = compositions(useful, longest, [useful])[0]!
    return Array.from(parts, (x) => 2 * x)
  }
  const above = Math.ceil(useful / 2)
  const below = useful - above
  const bounded = pairedRuns(above, below, longest)
  const all = pairedRuns(above, below, useful).reduce((sum, x) => sum + x, 0)
  return bounded.map((x) => x / all)
}

/** More points than these take minutes. */
const MOST_TABLED = 1000

/**
 * The joint distribution of the longest run and the number of crossings.
 *
 * @param useful Points not on the centre line, a whole number from 1 to 1,000 (some hundreds are
 *   quick; the table has `useful`² entries).
 * @param center `known`, or `median` of the same points.
 * @returns table[l][c]: probability that the longest run has l points and there are c crossings.
 * @throws AppError `stats.out_of_range`.
 * @see Anhøj & Wentzel-Larsen 2019, PLoS ONE 14:e0223233.
 *
 * @example
 * jointRuns(2, 'known') // => [[0, 0], [0, 0.5], [0.5, 0]]
 */
export function jointRuns(useful: number, center: RunCenter): number[][] {
  requireNumber('The number of useful points', useful, 'a whole count')
  requireNumber('What is left of 1,000 points', MOST_TABLED - useful, 'not negative')
  const table: number[][] = [new Array<number>(useful).fill(0)]
  let before: number[] = []
  for (let longest = 1; longest <= useful; longest++) {
    const now = boundedRuns(useful, longest, center)
    const row = new Array<number>(useful).fill(0)
    for (let runs = 1; runs <= useful; runs++) {
      row[runs - 1] = Math.max(0, (now[runs] ?? 0) - (before[runs] ?? 0))
    }
    table.push(row)
    before = now
  }
  return table
}

/**
 * Chance that the longest run is too long, or crossings too few, although nothing changed.
 *
 * @param useful    Points not on the centre line, a whole number from 1 to 4,000.
 * @param longest   Longest run that is no signal.
 * @param crossings Fewest crossings that are no signal.
 * @param center    `known`, or `median` of the same points.
 * @returns 0–1, exact.
 * @throws AppError `stats.out_of_range`.
 * @see Anhøj & Olesen 2014, PLoS ONE 9:e113825.
 *
 * @example
 * Math.round(falseRunSignal(24, 8, 8, 'known') * 1e6) / 1e6 // => 0.06624
 */
export function falseRunSignal(
  useful: number,
  longest: number,
  crossings: number,
  center: RunCenter,
): number {
  requireNumber('The fewest crossings', crossings, 'a whole count')
  const chances = boundedRuns(useful, longest, center)
  let quiet = 0
  for (let runs = Math.max(1, crossings + 1); runs < chances.length; runs++) quiet += chances[runs]!
  return Math.max(0, 1 - quiet)
}

function pairedRuns(above: number, below: number, longest: number): number[] {
  const [a, b] = compositions(Math.max(above, below), longest, [above, below])
  const chances = new Array<number>(above + below + 1).fill(0)
  if (below === 0) {
    chances[1] = a![1]!
    return chances
  }
  for (let runs = 1; runs <= above + below; runs++) {
    const k = runs >> 1
    chances[runs] =
      runs % 2 === 0
        ? 2 * (a![k] ?? 0) * (b![k] ?? 0)
        : (a![k + 1] ?? 0) * (b![k] ?? 0) + (a![k] ?? 0) * (b![k + 1] ?? 0)
  }
  return chances
}

/**
 * For each total asked for: by number of parts k, the compositions of the total into k parts of 1
 * to `longest`, times 2^−total.
 */
function compositions(most: number, longest: number, totals: readonly number[]): Float64Array[] {
  const results = totals.map((total) => new Float64Array(total + 1))
  let row = new Float64Array(most + 1)
  row[0] = 1
  for (const [i, total] of totals.entries()) if (total === 0) results[i]![0] = 1
  const cut = 2 ** -(longest + 1)
  for (let parts = 1; parts <= most; parts++) {
    const next = new Float64Array(most + 1)
    for (let m = parts; m <= most; m++) {
      // One point longer last part, or a new part of one point, less those that got too long.
      let value = (next[m - 1]! + row[m - 1]!) / 2
      if (m - longest - 1 >= 0) value -= cut * row[m - longest - 1]!
      next[m] = Math.max(value, 0)
    }
    for (const [i, total] of totals.entries()) {
      if (parts <= total) results[i]![parts] = next[total]!
    }
    row = next
  }
  return results
}
