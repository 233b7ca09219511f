import type { ReactNode } from 'react'
import type { Kit, ScoreStep } from '../../../domain/workshop/kit.ts'
import { Section } from '../../ui/Section.tsx'
import { KitCardFigure } from './KitCardFigure.tsx'

/** Items right that a step of the score asks for, in words. */
export function stepText({ atLeast }: ScoreStep, items: number): string {
  if (atLeast === 1) return `all ${items} items right`
  const least = Math.ceil(atLeast * items - 1e-9)
  return least <= 0 ? 'fewer' : `at least ${least} of ${items} items right`
}

/** A kit to read: for its table first, for its facilitator below. */
export function KitRead({ kit }: { kit: Kit }) {
  return (
    <>
      <Section title="Card" aside={<p>{kit.card.note}</p>}>
        <KitCardFigure card={kit.card} name={kit.name} />
      </Section>
      <Section title="Task">
        <Lines lines={kit.task} />
      </Section>
      <Section title="Clock" aside={<p>So plain that two people who time stop together.</p>}>
        <p>{kit.clockStarts}</p>
        <p>{kit.clockStops}</p>
      </Section>
      <Section title="Checklist" aside={<p>Each item is right or not right.</p>}>
        <Lines lines={kit.checklist} numbered />
      </Section>
      <Section title="Quality score" aside={<p>Three steps are common practice.</p>}>
        <ul>
          {kit.score.map((step) => (
            <li key={step.atLeast}>
              {`Score ${step.score}: ${step.label} (${stepText(step, kit.checklist.length)}).`}
            </li>
          ))}
        </ul>
      </Section>
      <Section title="Bring" aside={<p>For one table.</p>}>
        <Lines lines={kit.bring} />
      </Section>
      <Section title="Strategy prompts" aside={<p>Questions a table may ask itself first.</p>}>
        <Lines lines={kit.prompts} />
      </Section>
      <Section title="Hints" aside={<p>For the facilitator only.</p>}>
        <Lines lines={kit.hints} />
      </Section>
      <Section title="Variations">
        <Lines lines={kit.variations} />
      </Section>
    </>
  )
}

function Lines({ lines, numbered = false }: { lines: readonly string[]; numbered?: boolean }) {
  if (lines.length === 0) return <p className="soft">None.</p>
  const items: ReactNode = lines.map((line) => <li key={line}>{line}</li>)
  return numbered ? <ol className="numbered">{items}</ol> : <ul>{items}</ul>
}
