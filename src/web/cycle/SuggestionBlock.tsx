import type { Decision } from '../../domain/record.ts'
import type { Suggestion } from '../../domain/suggestion.ts'
import { SUGGESTION_WORDS } from './words.ts'

/** The decision that the figures suggest, with its reasons, while the team has not decided. */
export function SuggestionBlock({ kind, reasons }: Suggestion) {
  return (
    <section className="suggestion" aria-label="What the figures suggest">
      <p>
        The figures suggest: <strong>{SUGGESTION_WORDS[kind]}.</strong>
      </p>
      <Reasons reasons={reasons} />
      <p className="small soft">
        The team decides. It knows what the figures do not: the work, the patients and local policy.
      </p>
    </section>
  )
}

/** What the figures suggested when the team decided, as it was kept with the decision. */
export function SuggestionThen({
  decision,
  now,
}: {
  readonly decision: Decision
  /** What they suggest as the data stand today. */
  readonly now: Suggestion
}) {
  const { kind, suggestedKind, suggestedReasons, differsBecause } = decision
  return (
    <section className="suggestion" aria-label="What the figures suggested">
      {suggestedKind === null ? (
        <p>What the figures suggested at the time was not kept.</p>
      ) : (
        <>
          <p>
            When the team decided, the figures suggested:{' '}
            <strong>{SUGGESTION_WORDS[suggestedKind]}.</strong>
            {suggestedKind === kind
              ? ' The team decided the same.'
              : ' The team decided otherwise.'}
          </p>
          <Reasons reasons={(suggestedReasons ?? '').split('\n').filter((r) => r !== '')} />
          {differsBecause !== null && differsBecause !== '' && (
            <p className="pre">
              <b>Why the team decided otherwise:</b> {differsBecause}
            </p>
          )}
        </>
      )}
      {suggestedKind !== now.kind && (
        <p className="small">
          As the data stand now, they suggest: <b>{SUGGESTION_WORDS[now.kind]}.</b>
        </p>
      )}
    </section>
  )
}

function Reasons({ reasons }: { readonly reasons: readonly string[] }) {
  return (
    <ul>
      {reasons.map((reason) => (
        <li key={reason}>{reason}</li>
      ))}
    </ul>
  )
}
