import type { Finding, Study } from './finding.ts'
import type { SuggestionKind } from './record.ts'

/** What the figures suggest, and why. The team decides. */
export interface Suggestion {
  readonly kind: SuggestionKind
  readonly reasons: readonly string[]
}

/**
 * The decision that a test's findings suggest. Harm comes first, then what is claimed, then how the
 * predictions came out; where little can be said, more data.
 */
export function suggestDecision({ findings }: Pick<Study, 'findings'>): Suggestion {
  const reasons: string[] = []
  const harmed = findings.filter((f) => f.harm)
  const aims = findings.filter((f) => f.measure.role !== 'balancing')
  const improved = aims.filter((f) => f.better === true)
  const worsened = aims.filter((f) => f.better === false)
  const missed = aims.filter((f) => f.verdict === 'worse')

  for (const f of harmed) reasons.push(harmReason(f))
  if (harmed.length > 0) {
    if (improved.length > 0) {
      reasons.push(`${names(improved)} improved, so keep what helped and change what harms.`)
      return { kind: 'adapt', reasons }
    }
    const sure = harmed.some((f) => f.better === false || f.signals.some((s) => s.better === false))
    reasons.push(
      sure
        ? 'No improvement is shown that could weigh against it.'
        : 'Look at it before the test goes on; it may be chance.',
    )
    return { kind: sure ? 'abandon' : 'adapt', reasons }
  }
  if (worsened.length > 0) {
    reasons.push(`${names(worsened)} became worse by more than chance explains.`)
    if (improved.length > 0) reasons.push(`${names(improved)} improved.`)
    return { kind: improved.length > 0 ? 'adapt' : 'abandon', reasons }
  }
  if (improved.length > 0) {
    reasons.push(`${names(improved)} improved by more than chance explains.`)
    if (missed.length > 0) {
      reasons.push(`${names(missed)} came out worse than predicted.`)
      return { kind: 'adapt', reasons }
    }
    const watched = findings.some((f) => f.measure.role === 'balancing' && f.outcome.n > 0)
    reasons.push(
      watched
        ? 'No balancing measure has moved the worse way.'
        : 'No balancing measure was observed in the test: look for harm before adopting.',
    )
    return { kind: 'adopt', reasons }
  }
  const early = aims.some((f) => f.limits.some((l) => l.kind === 'dated-before-lock'))
  if (missed.length > 0 && !early) {
    reasons.push(
      `${names(missed)} came out worse than predicted, and no improvement is shown: something in the change, or in the theory, needs another look.`,
    )
    return { kind: 'adapt', reasons }
  }
  const signalled = aims.filter((f) => f.signals.some((s) => s.better === true))
  if (signalled.length > 0)
    reasons.push(`The chart of ${names(signalled)} shows a signal in the better direction.`)
  reasons.push(
    'No change is shown that chance or the course of the weeks before could not explain.',
  )
  const few = aims.some((f) => f.change === null || f.change.doubt === 'few-points')
  reasons.push(
    few
      ? 'More points in the test, or from before it, would let the figures speak.'
      : 'Going on with the same test, or a larger one, would narrow the interval.',
  )
  return { kind: 'keep-collecting', reasons }
}

function harmReason({ measure, better, signals, verdict }: Finding): string {
  if (better === false) return `${measure.name} became worse by more than chance explains.`
  if (signals.some((s) => s.better === false))
    return `${measure.name} shows a signal in the worse direction since the test began.`
  return verdict === 'worse'
    ? `${measure.name} came out worse than predicted.`
    : `${measure.name} moved the worse way.`
}

function names(findings: readonly Finding[]): string {
  const all = findings.map(({ measure }) => measure.name)
  return all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`
}
