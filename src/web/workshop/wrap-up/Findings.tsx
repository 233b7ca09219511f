import type { WrapUpPart } from '../../../domain/workshop/wrap-up-words.ts'

/** A figure and its unit stay on one line. */
const held = (text: string) => text.replace(/ (%|s\b)/g, '\u00a0$1')

/** Findings in sentences, each with the reasons to be careful with it. */
export function Findings({ parts }: { readonly parts: readonly WrapUpPart[] }) {
  return (
    <div className="wrap-findings">
      {parts.map((part) => (
        <section key={part.key} className="stack tight" aria-labelledby={`finding-${part.key}`}>
          <h3 id={`finding-${part.key}`}>{part.title}</h3>
          {part.sentences.length > 2 ? (
            <ul className="wrap-lines">
              {part.sentences.map((sentence) => (
                <li key={sentence}>{held(sentence)}</li>
              ))}
            </ul>
          ) : (
            part.sentences.map((sentence) => <p key={sentence}>{held(sentence)}</p>)
          )}
          {part.limits.map((limit) => (
            <p key={limit} className="small soft">
              {held(limit)}
            </p>
          ))}
        </section>
      ))}
    </div>
  )
}
