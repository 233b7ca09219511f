import { KIT_LIMITS } from '../../../domain/workshop/kit-issues.ts'
import { Button } from '../../ui/Button.tsx'
import { TextField } from '../../ui/TextField.tsx'
import type { KitDraft, StepDraft } from './kit-draft.ts'

export interface ScoreEditorProps {
  readonly steps: KitDraft['score']
  readonly onChange: (steps: readonly StepDraft[]) => void
  readonly problemOf: (field: string) => string | undefined
}

/** The steps of the quality score, the highest first. */
export function ScoreEditor({ steps, onChange, problemOf }: ScoreEditorProps) {
  const set = (at: number, change: Partial<StepDraft>) =>
    onChange(steps.map((step, i) => (i === at ? { ...step, ...change } : step)))
  const [least, most] = KIT_LIMITS.steps
  const unseen = (text: string, i: number) => (
    <>
      {text}
      <span className="hidden-text">{`, step ${i + 1}`}</span>
    </>
  )
  return (
    <div className="stack fill score-editor">
      <ol className="bare score-steps">
        {steps.map((step, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a step is what stands in its row
          <li key={i} className="score-step">
            <TextField
              className="narrow"
              label={unseen('Items right', i)}
              value={step.items}
              onChange={(items) => set(i, { items })}
              error={problemOf(`score:${i}:atLeast`)}
            />
            <TextField
              className="narrow"
              label={unseen('Score', i)}
              inputMode="decimal"
              value={step.score}
              onChange={(score) => set(i, { score })}
              error={problemOf(`score:${i}:score`)}
            />
            <TextField
              label={unseen('What it means', i)}
              value={step.label}
              onChange={(label) => set(i, { label })}
              error={problemOf(`score:${i}:label`)}
            />
          </li>
        ))}
      </ol>
      {problemOf('score') && <p className="field-error">{problemOf('score')}</p>}
      <div className="row">
        {steps.length < most && (
          <Button
            onClick={() => onChange(steps.toSpliced(-1, 0, { items: '', score: '', label: '' }))}
          >
            Add a step
          </Button>
        )}
        {steps.length > least && (
          <Button
            look="quiet"
            onClick={() => onChange(steps.toSpliced(-2, 1))}
          >{`Take away step ${steps.length - 1}`}</Button>
        )}
      </div>
    </div>
  )
}
