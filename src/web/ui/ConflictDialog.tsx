import { useState } from 'react'
import type { FieldConflict, Versioned } from '../lib/record-editor.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { Button } from './Button.tsx'
import { Dialog } from './Dialog.tsx'
import { Notice } from './Notice.tsx'
import { RadioCards } from './RadioCards.tsx'
import { TextArea } from './TextArea.tsx'

export interface ConflictDialogProps<T extends Versioned> {
  readonly editing: Editing<T>
  /** What each field is called on the page. */
  readonly labels: Partial<Record<keyof T & string, string>>
  /** A value as the person sees it, where it is not text. */
  readonly show?: (field: keyof T & string, value: unknown) => string
}

type Choice = 'mine' | 'theirs' | 'edit'

const plain = (value: unknown) => (value === null || value === '' ? '(empty)' : String(value))

/** Both texts to make one of: lines of a name side by side, paragraphs one below the other. */
const bothOf = (theirs: string, mine: string) =>
  [theirs, mine].join(`${theirs}${mine}`.length > 120 || /\n/.test(theirs + mine) ? '\n\n' : ' ')

/** Shows itself when two people changed the same field: both versions, side by side, one choice each. */
export function ConflictDialog<T extends Versioned>(props: ConflictDialogProps<T>) {
  const { conflicts } = props.editing
  if (conflicts.length === 0) return null
  // A new set of conflicts starts with no choice made.
  return <Open key={conflicts.map((c) => c.field + String(c.theirs)).join()} {...props} />
}

function Open<T extends Versioned>({ editing, labels, show }: ConflictDialogProps<T>) {
  const { conflicts, editor } = editing
  type Field = keyof T & string
  const [choices, setChoices] = useState<Partial<Record<Field, Choice>>>({})
  const [texts, setTexts] = useState<Partial<Record<Field, string>>>({})
  const [asked, setAsked] = useState(false)
  const [later, setLater] = useState(false)

  const text = (field: Field, value: unknown) => show?.(field, value) ?? plain(value)
  const draftOf = ({ field, mine, theirs }: FieldConflict<T>) =>
    texts[field] ?? bothOf(String(theirs), String(mine))

  const save = () => {
    setAsked(true)
    if (conflicts.some(({ field }) => choices[field] === undefined)) return
    const chosen: Partial<Record<Field, unknown>> = {}
    for (const conflict of conflicts) {
      const choice = choices[conflict.field]
      chosen[conflict.field] =
        choice === 'mine'
          ? conflict.mine
          : choice === 'theirs'
            ? conflict.theirs
            : draftOf(conflict)
    }
    editor.resolve(chosen as Partial<T>)
  }

  if (later) {
    return (
      <Notice kind="problem">
        <p>Somebody else saved this in the meantime. Your text is kept, and not saved yet.</p>
        <Button onClick={() => setLater(false)}>Compare and choose</Button>
      </Notice>
    )
  }
  return (
    <Dialog
      wide
      title="Somebody else saved this in the meantime"
      onClose={() => setLater(true)}
      actions={
        <>
          <Button look="main" onClick={save}>
            Save what I chose
          </Button>
          <Button look="quiet" onClick={() => setLater(true)}>
            Decide later
          </Button>
        </>
      }
    >
      <p>Nothing is lost: both versions are below. Choose for each what to keep.</p>
      {conflicts.map((conflict) => {
        const { field, mine, theirs } = conflict
        const name = labels[field] ?? field
        const editable = typeof mine === 'string' && typeof theirs === 'string'
        return (
          <div className="stack fill" key={field}>
            <h3>{name}</h3>
            <div className="both">
              <div>
                <p className="small soft">Yours</p>
                <blockquote>{text(field, mine)}</blockquote>
              </div>
              <div>
                <p className="small soft">Saved by somebody else</p>
                <blockquote>{text(field, theirs)}</blockquote>
              </div>
            </div>
            <RadioCards<Choice>
              legend={<span className="hidden-text">{`Which version of “${name}” to keep`}</span>}
              across
              value={choices[field] ?? null}
              onChange={(choice) => setChoices({ ...choices, [field]: choice })}
              error={
                asked && choices[field] === undefined
                  ? `Choose which version of “${name}” to keep.`
                  : null
              }
              choices={[
                { value: 'mine', label: 'Keep mine' },
                { value: 'theirs', label: 'Take theirs' },
                ...(editable ? [{ value: 'edit' as const, label: 'Edit both into one' }] : []),
              ]}
            />
            {choices[field] === 'edit' && (
              <TextArea
                label={`${name}, as it is to be saved`}
                value={draftOf(conflict)}
                onChange={(value) => setTexts({ ...texts, [field]: value })}
              />
            )}
          </div>
        )
      })}
    </Dialog>
  )
}
