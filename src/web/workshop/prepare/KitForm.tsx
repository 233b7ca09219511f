import { useMemo, useState } from 'react'
import type { Kit } from '../../../domain/workshop/kit.ts'
import { isStale, issuesByField } from '../../lib/refusals.ts'
import { useAction } from '../../lib/use-action.ts'
import { useDraft } from '../../lib/use-draft.ts'
import { Button, LinkButton } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { ErrorNotice, Notice } from '../../ui/Notice.tsx'
import { Section } from '../../ui/Section.tsx'
import { TextArea } from '../../ui/TextArea.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { CardEditor } from './CardEditor.tsx'
import { draftOf, EMPTY_DRAFT, type KitDraft, kitOf } from './kit-draft.ts'
import { isAboutLayout, kitProblems } from './kit-problems.ts'
import { ScoreEditor } from './ScoreEditor.tsx'

export interface KitFormProps {
  /** Names what is typed on this device until it is saved. */
  readonly draftKey: string
  /** The kit to begin with; `null`: nothing. */
  readonly initial: Kit | null
  readonly saveText: string
  /** Where "Not now" leads; what is typed stays on this device. */
  readonly back: string
  /** Puts the kit on the server; `done` forgets the draft. */
  readonly onSave: (kit: Kit, done: () => void) => Promise<unknown>
  /** Saves it as a kit of its own, where somebody else changed the same kit in the meantime. */
  readonly onSaveCopy?: (kit: Kit, done: () => void) => Promise<unknown>
}

const ONE_A_LINE = 'One a line.'

/** A kit as a form: what it says, its card as rows with the picture beside, its checklist and score. */
export function KitForm(props: KitFormProps) {
  const { draftKey, initial, saveText, back, onSave, onSaveCopy } = props
  const start = useMemo(() => (initial === null ? EMPTY_DRAFT : draftOf(initial)), [initial])
  const form = useDraft<KitDraft>(draftKey, start)
  const action = useAction()
  const [asked, setAsked] = useState(false)
  const { values, set } = form
  const kit = kitOf(values)
  const problems = kitProblems(kit)
  const refused = issuesByField(action.error)
  const count = Object.keys(problems).length

  const problemOf = (field: string) =>
    asked || isAboutLayout(field) ? (problems[field] ?? refused[field]) : refused[field]
  const change = (fields: Partial<KitDraft>) => {
    for (const [field, value] of Object.entries(fields))
      set(field as keyof KitDraft, value as KitDraft[keyof KitDraft])
  }
  const save = async () => {
    setAsked(true)
    if (count > 0) return
    await action.run(() => onSave(kit, form.clear))
  }
  const text = (
    field: 'name' | 'summary' | 'clockStarts' | 'clockStops',
    label: string,
    hint = '',
  ) => (
    <TextField
      label={label}
      hint={hint}
      required
      value={values[field]}
      onChange={(value) => set(field, value)}
      error={problemOf(field)}
    />
  )
  const list = (
    field: 'bring' | 'task' | 'checklist' | 'prompts' | 'hints' | 'variations',
    label: string,
    hint: string,
    optional = false,
  ) => (
    <TextArea
      label={label}
      hint={`${hint} ${ONE_A_LINE}`}
      rows={3}
      optional={optional}
      value={values[field]}
      onChange={(value) => set(field, value)}
      error={problemOf(field)}
    />
  )

  return (
    <Form onSubmit={() => void save()}>
      {form.restored && (
        <Notice>
          <p>What you typed earlier is here again; it is not saved yet.</p>
          <Button look="quiet" onClick={form.clear}>
            Begin again
          </Button>
        </Notice>
      )}
      <div>
        <Section title="Kit">
          {text('name', 'Name of the kit')}
          {text('summary', 'In one sentence')}
          {list('bring', 'What to bring', 'For one table.')}
          {list('task', 'Task', 'What a table is asked to do, in the words it reads.')}
        </Section>
        <Section
          title="Clock"
          aside={<p>Name what anybody can see or hear, so that two people who time agree.</p>}
        >
          {text('clockStarts', 'When it starts')}
          {text('clockStops', 'When it stops')}
        </Section>
        <Section title="Card" aside={<p>What the finished task looks like, on a grid.</p>} wide>
          <CardEditor draft={values} onChange={change} problemOf={problemOf} />
        </Section>
        <Section title="Checklist" aside={<p>6 to 20 items, each right or not right.</p>}>
          {list('checklist', 'Items', 'What an inspector can see without asking.')}
          <p className="small soft">{`${kit.checklist.length} so far.`}</p>
        </Section>
        <Section
          title="Quality score"
          aside={
            <p>
              From the highest step down. Three steps are common practice, the top one for all items
              right.
            </p>
          }
        >
          <p className="small soft">
            Items right that a step asks for at least: a number, or “all”. The last step is 0.
          </p>
          <ScoreEditor
            steps={values.score}
            onChange={(score) => set('score', score)}
            problemOf={problemOf}
          />
        </Section>
        <Section title="For the facilitator">
          {list('prompts', 'Strategy prompts', 'Questions a table may ask itself first.', true)}
          {list('hints', 'Hints', 'On safety, on taking part while seated, on what to ask.', true)}
          {list('variations', 'Variations', 'What could change between rounds.', true)}
          <p className="small soft">
            No sharp instruments: dummies or plastic. Local policy comes first.
          </p>
        </Section>
      </div>
      {asked && count > 0 && (
        <Notice kind="problem" live>
          <p>
            {count === 1
              ? 'One thing is still to be put right; it is marked above.'
              : `${count} things are still to be put right; each is marked above.`}
          </p>
        </Notice>
      )}
      {action.error !== null && (
        <ErrorNotice error={action.error}>
          {onSaveCopy !== undefined && isStale(action.error) && (
            <Button onClick={() => void action.run(() => onSaveCopy(kit, form.clear))}>
              Save what I typed as another kit
            </Button>
          )}
        </ErrorNotice>
      )}
      <div className="row">
        <Button look="main" type="submit" busy={action.busy} busyText="Saving…">
          {saveText}
        </Button>
        <LinkButton look="quiet" href={back}>
          Not now
        </LinkButton>
      </div>
    </Form>
  )
}
