import type { CycleReply } from '../../api/contract.ts'
import type { DecisionKind } from '../../domain/record.ts'
import { type Suggestion, suggestDecision } from '../../domain/suggestion.ts'
import { useStudy } from './use-study.ts'

const SUGGESTED: Readonly<Record<Suggestion['kind'], string>> = {
  adopt: 'Adopt',
  adapt: 'Adapt',
  abandon: 'Abandon',
  'keep-collecting': 'Keep collecting before deciding',
}

/** The decision that the figures suggest, with its reasons; once the team has decided, beside its own. */
export function SuggestionBlock({
  data,
  decided,
}: {
  readonly data: CycleReply
  readonly decided: DecisionKind | null
}) {
  const study = useStudy(data)
  const { kind, reasons } = suggestDecision(study)
  return (
    <section className="suggestion" aria-label="What the figures suggest">
      <p>
        {decided === null ? 'The figures suggest: ' : 'As the data stand, the figures suggest: '}
        <strong>{SUGGESTED[kind]}.</strong>
        {decided !== null &&
          (kind === decided
            ? ' The team decided the same.'
            : ' The team decided otherwise, for the reason above.')}
      </p>
      <ul>
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      {decided === null && (
        <p className="small soft">
          The team decides. It knows what the figures do not: the work, the patients and local
          policy.
        </p>
      )}
    </section>
  )
}
