import { NUMBER_WORDS } from './number-words.ts'
import { observationsOfTest, summarize } from './outcome.ts'
import type { Cycle, Id, Measure, Observation, Prediction } from './record.ts'

/** How large each test of a chain was, all read with one yardstick. */
export interface TestSizes {
  /** `denominators`: looked at in all; `planned`: the number in the plan; `observations`: rows. */
  readonly by: 'denominators' | 'planned' | 'observations'
  /** What is counted, such as `summaries`; `observations` where it has no name. */
  readonly what: string
  /** In order of the tests given; `null` where the record does not say. */
  readonly sizes: readonly (number | null)[]
}

interface SizedTest {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
}

interface SizedMeasure {
  readonly measure: Measure
  readonly observations: readonly Observation[]
}

/**
 * The first number in the words on how many, and what it counts.
 *
 * @param text A plan's own words.
 * @returns `null` where they hold no number. `what` is the next word in the singular, or `''`.
 *
 * @example
 * plannedSize('About 5 patients a day') // => { size: 5, what: 'patient' }
 * plannedSize('All discharges') // => null
 */
export function plannedSize(text: string): { size: number; what: string } | null {
  const found = new RegExp(
    `\\b(\\d{1,6}|${NUMBER_WORDS.join('|')})\\b[\\s-]*(\\p{L}+)?`,
    'iu',
  ).exec(text)
  if (found === null) return null
  const word = found[1]!.toLowerCase()
  const size = /^\d/.test(word) ? Number(word) : NUMBER_WORDS.indexOf(word) + 1
  return { size, what: (found[2] ?? '').toLowerCase().replace(/s$/, '') }
}

/**
 * The size of every test of a chain, by the first of these that at least two of them share: the
 * denominators of a measure they predict, added up; the number in the plan, where it counts the same
 * thing; the number of observations of a measure they predict.
 *
 * @param tests    Tests of one chain in order.
 * @param measures The project's measures with their data.
 * @returns `null` where no two tests can be compared.
 */
export function testSizes(
  tests: readonly SizedTest[],
  measures: readonly SizedMeasure[],
): TestSizes | null {
  const predicted = measuresOf(tests)
    .map((id) => measures.find(({ measure }) => measure.id === id))
    .filter((m) => m !== undefined)
  const summaries = predicted.map(({ measure, observations }) => ({
    measure,
    sums: tests.map(({ cycle }) => summarize(measure, observationsOfTest(cycle, observations))),
  }))

  for (const { measure, sums } of summaries) {
    const sizes = sums.map((s) => s.denominator)
    if (comparable(sizes)) return { by: 'denominators', what: labelOf(measure), sizes }
  }
  const planned = tests.map(({ cycle }) => plannedSize(cycle.howMany))
  for (const { what } of planned.filter((p) => p !== null)) {
    const sizes = planned.map((p) => (p !== null && p.what === what ? p.size : null))
    if (comparable(sizes)) return { by: 'planned', what: what === '' ? 'planned' : what, sizes }
  }
  for (const { sums } of summaries) {
    const sizes = sums.map((s) => (s.n > 0 ? s.n : null))
    if (comparable(sizes)) return { by: 'observations', what: 'observations', sizes }
  }
  return null
}

const labelOf = (measure: Measure) =>
  measure.dataKind === 'classified' && measure.unitLabel.trim() !== ''
    ? measure.unitLabel.trim()
    : `denominators of ${measure.name}`

const comparable = (sizes: readonly (number | null)[]) =>
  sizes.filter((size) => size !== null).length >= 2

/** The measures that tests predict, the one most of them share first. */
export function measuresOf(tests: readonly SizedTest[]): Id[] {
  const counts = new Map<Id, number>()
  for (const { predictions } of tests)
    for (const { measureId } of predictions) counts.set(measureId, (counts.get(measureId) ?? 0) + 1)
  return [...counts].sort((a, b) => b[1] - a[1]).map(([id]) => id)
}
