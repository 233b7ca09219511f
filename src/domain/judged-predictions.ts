import { observationsOfTest, summarize } from './outcome.ts'
import type { Cycle, Id, Instant, Measure, Observation, Prediction } from './record.ts'

/** A locked prediction whose test is over, with what was observed. Says nothing of who made it. */
export interface JudgedPrediction {
  readonly cycleId: Id
  readonly projectId: Id
  readonly title: string
  readonly measureName: string
  readonly better: Measure['better']
  /** 1 for the first test of a chain, 2 for one that builds on it, and so on. */
  readonly step: number
  readonly lockedAt: Instant
  readonly low: number
  readonly expected: number
  readonly high: number
  readonly confidence: number
  readonly outcome: number
}

/** Predictions that can be judged, and how many cannot because data were dated before the lock. */
export interface Judged {
  readonly predictions: readonly JudgedPrediction[]
  readonly hindsight: number
}

interface Test {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
}

/**
 * The locked predictions of some tests held against their outcomes, in order of the lock. A test
 * counts once Do is over; a prediction with data dated before its lock may be hindsight and is left out.
 *
 * @param tests    The tests to judge.
 * @param all      Every test of their projects, for the place of each in its chain.
 * @param measures Their measures with observations.
 */
export function judgedPredictions(
  tests: readonly Test[],
  all: readonly Test[],
  measures: readonly { readonly measure: Measure; readonly observations: readonly Observation[] }[],
): Judged {
  const cycles = new Map(all.map(({ cycle }) => [cycle.id, cycle]))
  const data = new Map(measures.map((m) => [m.measure.id, m]))
  const predictions: JudgedPrediction[] = []
  let hindsight = 0
  for (const { cycle, predictions: said } of tests) {
    const { lockedAt } = cycle
    if (lockedAt === null || cycle.doneAt === null) continue
    for (const { measureId, low, expected, high, confidence } of said) {
      const found = data.get(measureId)
      if (found === undefined || low === null || expected === null || high === null) continue
      const own = observationsOfTest(cycle, found.observations)
      const outcome = summarize(found.measure, own).value
      if (outcome === null) continue
      if (own.some((o) => o.at.slice(0, 10) < lockedAt.slice(0, 10))) {
        hindsight++
        continue
      }
      const { name, better } = found.measure
      const { id, projectId, title } = cycle
      const step = stepOf(cycle, cycles)
      predictions.push({
        cycleId: id,
        projectId,
        title,
        measureName: name,
        better,
        step,
        lockedAt,
        low,
        expected,
        high,
        confidence,
        outcome,
      })
    }
  }
  predictions.sort((a, b) => (a.lockedAt < b.lockedAt ? -1 : a.lockedAt > b.lockedAt ? 1 : 0))
  return { predictions, hindsight }
}

/** Tests on care; exercises (a task in a classroom, without patients) stand apart. */
export interface JudgedApart extends Judged {
  readonly exercises: Judged
}

/** The same for tests on care, with exercises apart: how a classroom predicts says little of a ward. */
export function judgedApart(
  tests: readonly Test[],
  all: readonly Test[],
  measures: Parameters<typeof judgedPredictions>[2],
): JudgedApart {
  const exercise = ({ cycle }: Test) => cycle.determination === 'exercise'
  return {
    ...judgedPredictions(
      tests.filter((t) => !exercise(t)),
      all,
      measures,
    ),
    exercises: judgedPredictions(tests.filter(exercise), all, measures),
  }
}

function stepOf(cycle: Cycle, cycles: ReadonlyMap<Id, Cycle>): number {
  let step = 1
  for (
    let from = cycle.buildsOnId === null ? undefined : cycles.get(cycle.buildsOnId);
    from !== undefined && step <= cycles.size;
    from = from.buildsOnId === null ? undefined : cycles.get(from.buildsOnId)
  )
    step++
  return step
}
