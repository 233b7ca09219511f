import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import { effectPoints, type Shift } from '../../domain/effect.ts'
import { compareMoments } from '../../domain/series.ts'

/** A date to look from, with what to call it in a list. */
export interface ShiftOption extends Shift {
  readonly key: string
  readonly label: string
  /** What was begun then was given up again. */
  readonly abandoned: boolean
}

/** The starts of locked tests and of later phases of a measure, in order of date. */
export function shiftsOf(data: MeasureData, cycles: readonly CycleBrief[]): ShiftOption[] {
  const tests = cycles.flatMap(({ cycle, decision }) =>
    cycle.lockedAt === null || cycle.ranFrom === null
      ? []
      : [
          {
            key: cycle.id,
            at: cycle.ranFrom,
            name: `test ${cycle.number}`,
            label: `Test ${cycle.number}: ${cycle.title}`,
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
  data: MeasureData,
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
