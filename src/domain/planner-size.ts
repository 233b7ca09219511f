import type { Belief, FailureCost, Plan, Readiness } from './record.ts'

type TestSize = 'very-small' | 'small' | 'large' | 'implement'

/** Langley et al. 2009, The Improvement Guide, Table 7.1 (from memory). */
const SIZES: Readonly<
  Record<Belief, Readonly<Record<FailureCost, Readonly<Record<Readiness, TestSize>>>>>
> = {
  low: {
    large: { resistant: 'very-small', indifferent: 'very-small', ready: 'very-small' },
    small: { resistant: 'very-small', indifferent: 'very-small', ready: 'small' },
  },
  high: {
    large: { resistant: 'very-small', indifferent: 'small', ready: 'large' },
    small: { resistant: 'small', indifferent: 'large', ready: 'implement' },
  },
}

/** A suggested size of the next test, and why. */
export interface SizeSuggestion {
  readonly size: TestSize
  /** One line: the suggestion. */
  readonly headline: string
  /** One sentence: the reason. */
  readonly reason: string
}

const HEADLINES: Readonly<Record<TestSize, string>> = {
  'very-small': 'A very small test: one person, one patient or one shift.',
  small: 'A small test: a few people, a few days, one place.',
  large: 'A large test: several shifts or places, over some weeks.',
  implement: 'Ready to become the usual way of working, with its measures still watched.',
}

/**
 * Suggested size of the next test from the team's own three answers.
 *
 * @returns `null` until all three are given.
 * @see Langley et al. 2009, The Improvement Guide, Table 7.1 (from memory).
 */
export function suggestedSize(
  plan: Pick<Plan, 'belief' | 'failureCost' | 'readiness'>,
): SizeSuggestion | null {
  const { belief, failureCost, readiness } = plan
  if (belief === null || failureCost === null || readiness === null) return null
  const size = SIZES[belief][failureCost][readiness]
  return { size, headline: HEADLINES[size], reason: reasonFor(belief, failureCost, readiness) }
}

function reasonFor(belief: Belief, cost: FailureCost, readiness: Readiness): string {
  const holds: string[] = []
  const allows: string[] = []
  ;(belief === 'low' ? holds : allows).push(
    belief === 'low'
      ? 'the team is not yet sure that it works here'
      : 'the team believes that it works here',
  )
  ;(cost === 'large' ? holds : allows).push(
    cost === 'large' ? 'a failure would cost much' : 'a failure would cost little',
  )
  ;(readiness === 'ready' ? allows : holds).push(READY[readiness])
  const list = (parts: readonly string[]) =>
    parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`
  const said = holds.length === 0 ? list(allows) : list(holds)
  const but = holds.length > 0 && allows.length > 0 ? `, although ${list(allows)}` : ''
  return `Because ${said}${but}.`
}

const READY: Readonly<Record<Readiness, string>> = {
  resistant: 'the people affected are against it',
  indifferent: 'the people affected do not mind either way',
  ready: 'the people affected are ready for it',
}
