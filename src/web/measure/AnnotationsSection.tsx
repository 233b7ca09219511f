import { useState } from 'react'
import type { MeasureReply } from '../../api/contract.ts'
import type { Annotation } from '../../domain/record.ts'
import type { AppError } from '../../errors.ts'
import { asAppError, call } from '../lib/api.ts'
import { formatDate } from '../lib/dates.ts'
import { newId } from '../lib/ids.ts'
import { patchQuery } from '../lib/query.ts'
import { offerUndo } from '../lib/undo.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { DateField } from '../ui/DateField.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Section } from '../ui/Section.tsx'
import { TextField } from '../ui/TextField.tsx'

/** Events worth remembering on the time axis: a printer out of order, a new rota. */
export function AnnotationsSection({
  data,
  readOnly,
}: {
  readonly data: MeasureReply
  readonly readOnly: boolean
}) {
  const { measure, annotations } = data
  const form = useDraft<{ at: string | null; text: string }>(`note:${measure.id}`, {
    at: null,
    text: '',
  })
  const { at, text } = form.values
  const [asked, setAsked] = useState(false)
  const [error, setError] = useState<AppError | null>(null)

  const put = (change: (all: readonly Annotation[]) => readonly Annotation[]) =>
    patchQuery('GET /api/measures/:id', { id: measure.id }, (old) => ({
      ...old,
      annotations: change(old.annotations),
    }))
  const create = async (note: Pick<Annotation, 'at' | 'text'>) => {
    const made = await call('POST /api/annotations', {
      body: { id: newId(), measureId: measure.id, at: note.at, text: note.text },
    })
    put((all) => [...all, made])
  }
  const add = async () => {
    setAsked(true)
    if (at === null || text.trim() === '') return
    try {
      await create({ at, text: text.trim() })
      form.clear()
      setAsked(false)
      setError(null)
    } catch (thrown) {
      setError(asAppError(thrown))
    }
  }
  const remove = async (note: Annotation) => {
    try {
      await call('DELETE /api/annotations/:id', {
        params: { id: note.id },
        body: { version: note.version },
      })
      put((all) => all.filter(({ id }) => id !== note.id))
      offerUndo(`The note of ${formatDate(note.at)} was removed.`, () => create(note))
    } catch (thrown) {
      setError(asAppError(thrown))
    }
  }
  const listed = [...annotations].sort((a, b) => (a.at < b.at ? -1 : 1))

  return (
    <Section
      title="Notes on the time axis"
      id="notes"
      aside={<p>What else happened, so that a signal is not put down to the wrong cause.</p>}
    >
      {listed.length === 0 && <p className="soft">No notes yet.</p>}
      {listed.length > 0 && (
        <ul className="note-list">
          {listed.map((note) => (
            <li key={note.id} className="row">
              <span className="note-date">{formatDate(note.at)}</span>
              <span>{note.text}</span>
              {!readOnly && (
                <Button look="quiet" onClick={() => void remove(note)}>
                  Remove<span className="hidden-text"> the note of {formatDate(note.at)}</span>
                </Button>
              )}
            </li>
          ))}
        </ul>
      )}
      {!readOnly && (
        <form
          className="row inline-form"
          onSubmit={(event) => {
            event.preventDefault()
            void add()
          }}
        >
          <DateField
            label="Date"
            value={at}
            onChange={(value) => form.set('at', value)}
            error={asked && at === null ? 'Give the date.' : null}
          />
          <TextField
            label="What happened"
            value={text}
            onChange={(value) => form.set('text', value)}
            error={asked && text.trim() === '' ? 'Write what happened.' : null}
          />
          <Button type="submit">Add the note</Button>
        </form>
      )}
      {error !== null && <ErrorNotice error={error} />}
    </Section>
  )
}
