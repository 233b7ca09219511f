import type { Id } from '../record.ts'
import type { TimedHow } from './room.ts'

/** Milliseconds by which the runs of two phones may miss each other and still be the same trial. */
const SLACK = 5000

export interface Settled {
  /** Seconds of the trial; `null`: no reading yet, or the timers disagree. */
  readonly seconds: number | null
  readonly unsettled: boolean
  /** Longest reading less the shortest, of those that count; 0 for one. */
  readonly apart: number
}

/**
 * The time of a trial from its readings: the one that was kept, else their mean where they agree.
 *
 * Readings marked 0 (not kept, or sent after the round was decided) do not count.
 *
 * @param readings Seconds above 0, and whether each was kept: 1, 0, or `null` where nobody was asked.
 * @param within   Seconds that timers may differ by, 0 or more.
 * @see METHODS 2: the mean of two timers unless they disagree by more than a limit.
 *
 * @example
 * settle([{ seconds: 62, kept: null }, { seconds: 63, kept: null }], 2) // => { seconds: 62.5, unsettled: false, apart: 1 }
 */
export function settle(
  readings: readonly { readonly seconds: number; readonly kept: number | null }[],
  within: number,
): Settled {
  const kept = readings.find((r) => r.kept === 1)
  if (kept !== undefined) return { seconds: kept.seconds, unsettled: false, apart: 0 }
  const counted = readings.filter((r) => r.kept === null).map((r) => r.seconds)
  if (counted.length === 0) return { seconds: null, unsettled: false, apart: 0 }
  const apart = Math.max(...counted) - Math.min(...counted)
  // A hundredth of a second is nobody's disagreement, and 0.1 + 0.2 is not 0.3.
  if (apart > within + 0.005) return { seconds: null, unsettled: true, apart }
  const mean = counted.reduce((sum, s) => sum + s, 0) / counted.length
  return { seconds: Math.round(mean * 1000) / 1000, unsettled: false, apart }
}

/** Why a time that its timers disagree on does not count yet. */
export function unsettledReason(apart: number): string {
  return `The two timers differ by ${apart.toFixed(1)} s; the table has not said which to keep.`
}

/** A trial as another phone's run is held against it. */
export interface TimedTrial {
  readonly id: Id
  readonly at: string
  readonly voidReason: string | null
  readonly seatIds: readonly (Id | null)[]
  /** Of its longest reading; `null`: it still runs. */
  readonly seconds: number | null
}

/**
 * The trial that a run of the clock belongs to as a second reading: one of the same round, timed by
 * another phone, whose time overlaps, give or take 5 seconds. Neither phone need have known of the
 * other: a table does one thing at a time, so two runs at once are one trial, and two runs apart
 * are two. A void trial is joined only by a run that began within it; what comes after is a repeat.
 *
 * @param trials The trials of the round, in order.
 * @param run    When the clock ran, milliseconds since 1970; the end is `Infinity` while it runs:
 *   then a trial that is over is joined only where the run began before its end.
 * @param seatId Whose phone it was.
 * @returns `null`: it is a trial of its own.
 */
export function sameTrial(
  trials: readonly TimedTrial[],
  run: { readonly from: number; readonly to: number },
  seatId: Id | null,
): TimedTrial | null {
  const joins = (trial: TimedTrial) => {
    const isVoid = trial.voidReason !== null
    if (trial.seatIds.includes(seatId) || (isVoid && trial.seconds === null)) return false
    const from = Date.parse(trial.at)
    const to = trial.seconds === null ? Infinity : from + trial.seconds * 1000
    const slackAfter = isVoid || run.to === Infinity ? 0 : SLACK
    return run.from <= to + slackAfter && (isVoid ? beganWith(trial, run) : run.to >= from - SLACK)
  }
  const joined = trials.filter(joins)
  return joined.findLast(({ voidReason }) => voidReason === null) ?? joined.at(-1) ?? null
}

/** Whether a run began no earlier than a trial, give or take 5 seconds. */
export const beganWith = ({ at }: Pick<TimedTrial, 'at'>, { from }: { readonly from: number }) =>
  from >= Date.parse(at) - SLACK

/** Whether the moments of a reading can be trusted to place it beside another phone's. */
export const wasTimedHere = (how: TimedHow) => how !== 'typed' && how !== 'paper'
