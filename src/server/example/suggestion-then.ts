import { studyOf } from '../../domain/finding.ts'
import type { Cycle, DateText, Prediction } from '../../domain/record.ts'
import { type Suggestion, suggestDecision } from '../../domain/suggestion.ts'
import type { Told } from './load-example.ts'

/** What the figures suggested on the day of a decision: data and phases that there were by then. */
export function suggestionThen(
  { stories, measures, observations, cycles }: Told,
  cycle: Cycle,
  predictions: readonly Prediction[],
  day: DateText,
): Suggestion {
  const known = stories.map(({ key, phases = [], annotations = [] }) => {
    const measure = measures.get(key)!
    const base = { id: '', measureId: measure.id, version: 1 }
    return {
      measure,
      observations: observations.filter(
        (o) => o.measureId === measure.id && o.at.slice(0, 10) <= day,
      ),
      phases: phases
        .filter(({ test }) => test === null || test <= cycles.length)
        .map(({ test: _, ...phase }) => ({ ...base, ...phase, cycleId: null })),
      annotations: annotations
        .filter(({ at }) => at <= day)
        .map((annotation) => ({ ...base, ...annotation })),
    }
  })
  return suggestDecision(studyOf({ cycle, predictions }, known, cycles))
}
