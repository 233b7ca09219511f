import { AppError } from '../errors.ts'
import type { Signal } from '../stats/types.ts'
import type { Cycle, Measure, Observation, Phase } from './record.ts'
import { analysisOf } from './series.ts'

interface Charted {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
}

/** A signal of one measure's chart that reaches into the days of a test, or past them. */
export interface TestSignal {
  readonly measure: Measure
  readonly signal: Signal
}

/**
 * Signals since a test began, on any measure of its project: a balancing measure that moves the
 * worse way first, then the rest in the order of the measures.
 */
export function signalsSince(cycle: Cycle, measures: readonly Charted[]): TestSignal[] {
  const began = cycle.ranFrom
  if (began === null) return []
  const found = measures.flatMap((data) => {
    const analysis = quiet(data)
    if (analysis === null) return []
    return analysis.signals
      .filter(
        ({ points }) => (analysis.points[points.at(-1) ?? -1]?.at.slice(0, 10) ?? '') >= began,
      )
      .map((signal) => ({ measure: data.measure, signal }))
  })
  const harm = ({ measure, signal }: TestSignal) =>
    measure.role === 'balancing' && signal.better === false ? 0 : 1
  return found.sort((a, b) => harm(a) - harm(b))
}

/** The chart's own page says what is wrong with it. */
function quiet(data: Charted) {
  try {
    return analysisOf(data)
  } catch (error) {
    if (error instanceof AppError) return null
    throw error
  }
}
