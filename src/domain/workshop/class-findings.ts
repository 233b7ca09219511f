import { medianOf } from '../../stats/median.ts'
import { isTimed, type RoundRow, stepsOf, type TimedRow } from './wrap-up-rounds.ts'

/** How many predicted ranges of time held in a round. */
export interface HeldFinding {
  readonly held: number
  /** Tables that predicted a range and have a time. */
  readonly of: number
}

/** How the tables' times changed from the round before; each table against itself. */
export interface ChangeFinding {
  /** Tables with a time in both rounds. */
  readonly tables: number
  readonly quicker: number
  readonly slower: number
  /** Median over tables of the later time divided by the earlier one. */
  readonly middle: number
}

/** How far off the expected times were in a round. */
export interface ErrorFinding {
  readonly round: number
  readonly tables: number
  /** Median distance between expected and actual time, as a share of the actual time. */
  readonly middle: number
  /** Tables that took longer than they expected. */
  readonly longer: number
  /** Tables that took less than they expected. */
  readonly shorter: number
}

/** Time and quality of one round side by side. */
export interface QualityFinding {
  /** Tables with a time and an inspection. */
  readonly tables: number
  /** The quickest with every item of the checklist right; `null`: none had. */
  readonly best: { readonly table: string; readonly seconds: number } | null
  /** Tables quicker than the best, or all where there is none: none of them had every item right. */
  readonly quickerWithout: readonly string[]
}

const middleOf = (values: readonly number[]) => medianOf(new Float64Array(values))

const timedIn = (rows: readonly RoundRow[], round: number): TimedRow[] =>
  rows.filter(isTimed).filter((row) => row.round === round)

/** The expected time, where the viewer may see it. */
const expectedTime = (row: RoundRow): number | null => row.predictions?.time?.expected ?? null

/** Whether a row predicts a range of time: in one number there is no room to be inside. */
function hasRange(row: RoundRow): boolean {
  const time = row.predictions?.time ?? null
  return time !== null && time.low < time.high
}

/**
 * The rounds with at least one time, in order.
 *
 * @example
 * timedRounds([]) // => []
 */
export function timedRounds(rows: readonly RoundRow[]): number[] {
  return [...new Set(rows.filter(isTimed).map((row) => row.round))].sort((a, b) => a - b)
}

/**
 * How many of a round's times fell inside the range their table predicted.
 *
 * @returns `null` where no table predicted a range and has a time.
 */
export function heldIn(rows: readonly RoundRow[], round: number): HeldFinding | null {
  const judged = timedIn(rows, round).filter(hasRange)
  if (judged.length === 0) return null
  return {
    held: judged.filter((row) => row.timeVerdict === 'inside').length,
    of: judged.length,
  }
}

/**
 * How times changed since the round before.
 *
 * @returns `null` where no table has a time in both.
 */
export function changeInto(rows: readonly RoundRow[], round: number): ChangeFinding | null {
  const ratios = stepsOf(rows)
    .filter((step) => step.to.round === round)
    .map(({ from, to }) => to.seconds / from.seconds)
  if (ratios.length === 0) return null
  return {
    tables: ratios.length,
    quicker: ratios.filter((ratio) => ratio < 1).length,
    slower: ratios.filter((ratio) => ratio > 1).length,
    middle: middleOf(ratios),
  }
}

/**
 * How far off the expected times were.
 *
 * @returns `null` where no table has both an expected and an actual time.
 */
export function errorIn(rows: readonly RoundRow[], round: number): ErrorFinding | null {
  const pairs = timedIn(rows, round).flatMap((row) => {
    const expected = expectedTime(row)
    return expected === null ? [] : [{ expected, seconds: row.seconds }]
  })
  if (pairs.length === 0) return null
  return {
    round,
    tables: pairs.length,
    middle: middleOf(pairs.map((p) => Math.abs(p.expected - p.seconds) / p.seconds)),
    longer: pairs.filter((p) => p.seconds > p.expected).length,
    shorter: pairs.filter((p) => p.seconds < p.expected).length,
  }
}

/**
 * Who was quick with every item right, and who was quicker without.
 *
 * @param items Items of the checklist.
 * @returns `null` where no table of the round was timed and inspected.
 */
export function qualityIn(
  rows: readonly RoundRow[],
  round: number,
  items: number,
): QualityFinding | null {
  const seen = timedIn(rows, round)
    .filter((row) => row.share !== null)
    .sort((a, b) => a.seconds - b.seconds)
  if (seen.length === 0) return null
  const best = seen.find((row) => row.right === items) ?? null
  const quicker = best === null ? seen : seen.filter((row) => row.seconds < best.seconds)
  return {
    tables: seen.length,
    best: best === null ? null : { table: best.table, seconds: best.seconds },
    quickerWithout: quicker.map((row) => row.table),
  }
}
