import { type BlandAltman, blandAltman } from '../../stats/bland-altman.ts'
import { cohenKappa, type Kappa } from '../../stats/cohen-kappa.ts'
import type { Interval } from '../../stats/interval.ts'
import { wilsonInterval } from '../../stats/wilson-interval.ts'
import { isCountOnly } from './inspecting.ts'
import type { InspectionState, TrialState } from './room-state.ts'
import type { RoundRow } from './wrap-up-rounds.ts'

/** From this many trials with two timers on, limits of agreement are given. */
export const FEWEST_PAIRS = 3
/** From this many items that two people inspected on, kappa is given (common practice). */
export const FEWEST_ITEMS = 30

/** One trial that two people timed. */
interface TimerPair {
  readonly table: string
  readonly round: number
  /** Seconds of the phone that started the trial, and of the other one. */
  readonly first: number
  readonly second: number
}

export interface TimerAgreement {
  /** Also those where the timers disagreed and one was kept: leaving them out would flatter. */
  readonly pairs: readonly TimerPair[]
  /** `null` below three pairs. */
  readonly figures: BlandAltman | null
}

/**
 * How far two timers of one trial differ: first less second, bias and limits of agreement.
 *
 * @see Bland & Altman (1986), Lancet 327:307.
 */
export function timerAgreement(rows: readonly RoundRow[]): TimerAgreement {
  const pairs = trialsOf(rows).flatMap(({ row, trial }): TimerPair[] => {
    if (trial.readings.length < 2) return []
    const starter = trial.readings.find(
      (r) => r.seatId !== null && r.seatId === trial.startedBySeatId,
    )
    const first = starter ?? trial.readings[0]!
    const second = trial.readings.find((r) => r !== first)!
    return [{ table: row.table, round: row.round, first: first.seconds, second: second.seconds }]
  })
  const figures =
    pairs.length < FEWEST_PAIRS
      ? null
      : blandAltman(
          pairs.map((p) => p.first),
          pairs.map((p) => p.second),
        )
  return { pairs, figures }
}

export interface InspectorAgreement {
  /** Trials that two people inspected. */
  readonly trials: number
  /** Trials of which only the count of items right is known; they take no part. */
  readonly countOnly: number
  /** Items that both looked at. */
  readonly items: number
  readonly bothRight: number
  readonly firstOnly: number
  readonly secondOnly: number
  readonly bothWrong: number
  /** Share of items on which they agree, with Wilson's interval; `null` where there is no item. */
  readonly agreed: Interval | null
  /** Agreement beyond chance; `null`: too few items, or all in one category. */
  readonly kappa: Kappa | null
  readonly noKappa: 'too-few' | 'one-category' | null
}

/**
 * How far two inspectors of one trial agree, item by item.
 *
 * @see Cohen (1960), Educ Psychol Meas 20:37; Fleiss, Cohen & Everitt (1969), Psychol Bull 72:323 for
 *   the interval.
 */
export function inspectorAgreement(rows: readonly RoundRow[]): InspectorAgreement {
  let countOnly = 0
  let [trials, bothRight, firstOnly, secondOnly, bothWrong] = [0, 0, 0, 0, 0]
  for (const { trial } of trialsOf(rows)) {
    if (isCountOnly(trial.inspections)) countOnly++
    const marked = trial.inspections.filter(({ rightCount }) => rightCount === null)
    const [first, second] = marked as readonly (InspectionState | undefined)[]
    if (first === undefined || second === undefined) continue
    trials++
    for (const [i, a] of first.marks.entries()) {
      const b = second.marks[i] ?? null
      if (a === null || b === null) continue
      if (a === 1 && b === 1) bothRight++
      else if (a === 1) firstOnly++
      else if (b === 1) secondOnly++
      else bothWrong++
    }
  }
  const items = bothRight + firstOnly + secondOnly + bothWrong
  const agreed = items === 0 ? null : wilsonInterval(bothRight + bothWrong, items)
  const oneCategory = bothRight === items || bothWrong === items
  const noKappa = items < FEWEST_ITEMS ? 'too-few' : oneCategory ? 'one-category' : null
  const table = [
    [bothRight, firstOnly],
    [secondOnly, bothWrong],
  ]
  const kappa = noKappa === null ? cohenKappa(table) : null
  const counts = { trials, countOnly, items, bothRight, firstOnly, secondOnly, bothWrong }
  return { ...counts, agreed, kappa, noKappa }
}

/** Trials that count; a void one was spoilt, so its timers and inspectors say nothing. */
function trialsOf(rows: readonly RoundRow[]): { row: RoundRow; trial: TrialState }[] {
  return rows.flatMap((row) =>
    row.state.trials.filter((trial) => trial.voidReason === null).map((trial) => ({ row, trial })),
  )
}
