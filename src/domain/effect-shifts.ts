import { effectPoints, type Shift } from './effect.ts'
import type { Cycle, Decision, Id, Measure, Observation, Phase, Prediction } from './record.ts'
import { compareMoments } from './series.ts'

/** A measure with its data, as the record holds it. */
export interface MeasureRecord {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
}

/** A test with what it predicts and what was decided. */
export interface TestRecord {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
  readonly decision: Decision | null
}

/** A date to look from, with what to call it in a list. */
export interface ShiftOption extends Shift {
  readonly key: string
  readonly label: string
  /** Measures that the test predicts; `null`: it is a phase of the measure itself. */
  readonly predicts: readonly Id[] | null
  /** What was begun then was given up again. */
  readonly abandoned: boolean
}

/**
 * The starts of locked tests and of later phases of a measure, in order of date.
 *
 * @param data   The measure with its phases.
 * @param cycles Every test of its project.
 */
export function shiftsOf(
  data: Pick<MeasureRecord, 'phases'>,
  cycles: readonly TestRecord[],
): ShiftOption[] {
  const tests = cycles.flatMap(({ cycle, predictions, decision }) =>
    cycle.lockedAt === null || cycle.ranFrom === null
      ? []
      : [
          {
            key: cycle.id,
            at: cycle.ranFrom,
            name: `test ${cycle.number}`,
            label: `Test ${cycle.number}: ${cycle.title}`,
            predicts: predictions.map((p) => p.measureId),
            abandoned: decision?.kind === 'abandon',
          },
        ],
  )
  const phases = data.phases.flatMap(({ id, startsAt, reason }) =>
    startsAt === null
      ? []
      : [
          {
            key: id,
            at: startsAt,
            name: 'a new phase',
            label: reason.trim() === '' ? 'A new phase' : `New phase: ${reason.trim()}`,
            predicts: null,
            abandoned: false,
          },
        ],
  )
  return [...tests, ...phases].sort((a, b) => compareMoments(a.at, b.at))
}

/**
 * The date to begin with: of what was not abandoned, the one that leaves most points on its shorter
 * side. It looks at how many points there are, never at their values, so it does not pick the date
 * that looks best.
 */
export function firstShift(
  data: MeasureRecord,
  options: readonly ShiftOption[],
): ShiftOption | undefined {
  const at = effectPoints(data.measure, data.observations).map((p) => p.at)
  const shorter = (option: ShiftOption) => {
    const after = at.filter((moment) => compareMoments(moment, option.at) >= 0).length
    return Math.min(after, at.length - after)
  }
  const kept = options.filter((option) => !option.abandoned)
  return [...(kept.length > 0 ? kept : options)].sort((a, b) => shorter(b) - shorter(a))[0]
}
