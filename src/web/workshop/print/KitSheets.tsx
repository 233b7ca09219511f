import type { Kit } from '../../../domain/workshop/kit.ts'
import { KitCardFigure } from '../prepare/KitCardFigure.tsx'
import { stepText } from '../prepare/KitRead.tsx'

/** Pixels of a card on paper: its text keeps its size, and the style makes it as wide as the page. */
const CARD_WIDTH = 640

/** The card and the task, for the middle of a table. */
export function CardSheet({ kit }: { kit: Kit }) {
  return (
    <article className="sheet" aria-label={`Layout card of ${kit.name}`}>
      <header className="sheet-head">
        <h2>{kit.name}</h2>
      </header>
      <div className="sheet-card">
        <KitCardFigure card={kit.card} name={kit.name} width={CARD_WIDTH} />
      </div>
      {kit.card.note !== '' && <p>{kit.card.note}</p>}
      <section className="sheet-part">
        <h3>Task</h3>
        <ol>
          {kit.task.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      </section>
      <section className="sheet-part">
        <h3>Clock</h3>
        <p>{kit.clockStarts}</p>
        <p>{kit.clockStops}</p>
      </section>
    </article>
  )
}

/** Everything a facilitator needs at hand. */
export function FacilitatorSheet({ kit }: { kit: Kit }) {
  const list = (title: string, lines: readonly string[]) =>
    lines.length > 0 && (
      <section className="sheet-part">
        <h3>{title}</h3>
        <ul>
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </section>
    )
  return (
    <article className="sheet facilitator-sheet" aria-label={`For the facilitator: ${kit.name}`}>
      <header className="sheet-head">
        <h2>{`${kit.name}: for the facilitator`}</h2>
        <p>{kit.summary}</p>
      </header>
      {list('Bring, for each table', kit.bring)}
      <section className="sheet-part">
        <h3>Clock</h3>
        <p>{kit.clockStarts}</p>
        <p>{kit.clockStops}</p>
      </section>
      <section className="sheet-part">
        <h3>Every round</h3>
        <ol>
          <li>The table writes its strategy, and predicts time and items right.</li>
          <li>Only then the clock starts; two people time where you can.</li>
          <li>Somebody who did not build inspects, item by item.</li>
          <li>The table plots, talks, and decides: adopt, adapt or abandon, with a reason.</li>
        </ol>
      </section>
      <section className="sheet-part">
        <h3>Quality score</h3>
        <ul>
          {kit.score.map((step) => (
            <li key={step.score}>
              {`${step.score}: ${step.label} (${stepText(step, kit.checklist.length)})`}
            </li>
          ))}
        </ul>
      </section>
      {list('Strategy prompts', kit.prompts)}
      {list('Hints', kit.hints)}
      {list('Variations', kit.variations)}
      <p className="small">
        A classroom exercise: nothing here is about patients. No sharp instruments; local policy
        comes first.
      </p>
    </article>
  )
}
