import type { Id, Measure, Project } from './record.ts'

/** What makes two measures the same thing measured on two units: written once, on the repeated one. */
export const SHARED_FIELDS = [
  'role',
  'dataKind',
  'valueFormat',
  'unitLabel',
  'per',
  'better',
  'operationalDefinition',
] as const satisfies readonly (keyof Measure)[]

/** A measure with those that repeat it on other units. */
export interface MeasureFamily<T> {
  readonly original: T
  /** At least one. */
  readonly repeats: readonly T[]
}

/** @returns Fields in which a measure is not the one it is said to repeat. */
export const differingFields = (repeat: Measure, original: Measure): string[] =>
  SHARED_FIELDS.filter((field) => repeat[field] !== original[field])

/** @returns The unit a measure is taken on: its own, or that of its project. */
export const unitIdOf = (measure: Pick<Measure, 'unitId'>, project: Pick<Project, 'unitId'>): Id =>
  measure.unitId ?? project.unitId

/**
 * The measures of a project that are repeated, each with its repeats, in the order given.
 *
 * @param measures Of one project, each in its own wrapping.
 */
export function familiesOf<T extends { readonly measure: Measure }>(
  measures: readonly T[],
): MeasureFamily<T>[] {
  return measures.flatMap((original) => {
    const repeats = measures.filter(({ measure }) => measure.sameAsId === original.measure.id)
    return repeats.length === 0 ? [] : [{ original, repeats }]
  })
}
