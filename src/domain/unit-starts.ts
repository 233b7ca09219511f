import type { Shift } from './effect.ts'
import { type MeasureRecord, type ShiftOption, shiftsOf, type TestRecord } from './effect-shifts.ts'
import type { Id } from './record.ts'

/** Where the date a unit is looked at from comes from. */
export type StartSource =
  /** The first test of change that predicts the measure of this unit. */
  | 'own-test'
  /** Somebody chose it for this unit. */
  | 'chosen'
  /** The first test of the project: this unit has none of its own. */
  | 'project-test'

/** From when a unit is looked at. */
export interface UnitStart {
  readonly shift: Shift & { readonly key: string }
  readonly source: StartSource
}

/** Of those begun, the first that was not given up again; else the first. */
function earliest(options: readonly ShiftOption[]): ShiftOption | undefined {
  return options.find((option) => !option.abandoned) ?? options[0]
}

/**
 * From when a measure that is taken on several units is looked at on one of them: the date chosen for
 * it, else its own first locked test, else the first of the project. It never looks at values.
 *
 * @param data   The measure on this unit.
 * @param cycles Every test of the project.
 * @param chosen Key of the test or phase that was chosen for it, where one was.
 * @returns `null` while no test of the project has been locked and started.
 */
export function unitStart(
  data: MeasureRecord,
  cycles: readonly TestRecord[],
  chosen?: string,
): UnitStart | null {
  const options = shiftsOf(data, cycles)
  const picked = options.find((option) => option.key === chosen)
  if (picked !== undefined) return { shift: picked, source: 'chosen' }
  const tests = options.filter((option) => option.predicts !== null)
  const own = earliest(tests.filter((option) => option.predicts!.includes(data.measure.id)))
  if (own !== undefined) return { shift: own, source: 'own-test' }
  const first = earliest(tests)
  return first === undefined ? null : { shift: first, source: 'project-test' }
}

/**
 * What may have shifted the measure of one unit: its own phases and tests, and tests that are not
 * about the same measure on another unit alone.
 *
 * @param data   The measure on this unit.
 * @param family Ids of the same measure on every unit, this one included.
 */
export function unitShifts(
  data: MeasureRecord,
  cycles: readonly TestRecord[],
  family: readonly Id[],
): ShiftOption[] {
  const { id } = data.measure
  return shiftsOf(data, cycles).filter(
    ({ predicts }) =>
      predicts === null ||
      predicts.includes(id) ||
      !predicts.some((predicted) => family.includes(predicted)),
  )
}
