import type { Experiment, ExperimentRun } from './experiment-record.ts'
import type { Waiting } from './today.ts'

/**
 * What a planned experiment waits for: its lock, its open runs, or what the team learned from it.
 *
 * A plan waits from the day it was made; runs wait from the last response that was written down, or
 * from the lock; the lesson waits from the last response.
 *
 * @param runs Its runs, in any order; none before the lock.
 * @returns `null` once the team has written what it learned.
 */
export function experimentWaitingFor(
  { createdAt, lockedAt, learned }: Pick<Experiment, 'createdAt' | 'lockedAt' | 'learned'>,
  runs: readonly Pick<ExperimentRun, 'position' | 'response' | 'at' | 'leftOutReason'>[],
): Waiting | null {
  if (lockedAt === null)
    return {
      kind: 'lock',
      since: createdAt,
      text: 'The plan is not locked: predict, then lock it to draw the order of the runs.',
    }
  const since = runs.reduce((last, { at }) => (at !== null && at > last ? at : last), lockedAt)
  const open = runs.filter((run) => run.response === null && run.leftOutReason === null)
  if (open.length > 0) {
    const next = Math.min(...open.map((run) => run.position))
    const done = runs.length - open.length
    const text =
      open.length === 1
        ? `One run is still to do: run ${next}.`
        : `${done === 0 ? 'No run is' : `${done} of ${runs.length} runs are`} in. Next is run ${next}.`
    return { kind: 'collect', since, text }
  }
  if (learned.trim() !== '') return null
  return {
    kind: 'study',
    since,
    text: 'Every run is in. Read which changes made a difference, and write what was learned.',
  }
}
