import { useMemo } from 'react'
import type { Id, RampNote } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { patchQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { InPlace } from '../ui/InPlace.tsx'
import { SaveLine } from '../ui/SaveLine.tsx'
import { Section } from '../ui/Section.tsx'
import { TextArea } from '../ui/TextArea.tsx'

export interface RampNoteBlockProps {
  readonly projectId: Id
  readonly rampId: Id
  /** `null` until somebody writes the first one. */
  readonly note: RampNote | null
}

/** Nothing saved yet: the first save makes the note. */
const UNWRITTEN = 0
const LABELS = { text: 'What we know now' } as const

/** What the team knows now about one idea, over all its tests. */
export function RampNoteBlock({ projectId, rampId, note }: RampNoteBlockProps) {
  const mayWrite = useCan('member')
  const saved = useMemo<RampNote>(
    () => note ?? { id: newId(), projectId, rampId, text: '', version: UNWRITTEN },
    [note, projectId, rampId],
  )
  const editing = useRecordEditor(`ramp:${rampId}:note`, saved, async (changes, version) => {
    const written = await call('PUT /api/ramps/:id/note', {
      params: { id: rampId },
      body: {
        id: saved.id,
        text: changes.text ?? saved.text,
        version: version === UNWRITTEN ? null : version,
      },
    })
    patchQuery('GET /api/projects/:id', { id: projectId }, (old) => ({
      ...old,
      rampNotes: [...old.rampNotes.filter((other) => other.rampId !== rampId), written],
    }))
    return written
  })
  const { values, set, flush } = editing
  return (
    <Section
      title={LABELS.text}
      aside={<p>About this idea, after all its tests so far. Rewrite it as you learn.</p>}
    >
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(_, value) => (value === '' ? '(empty)' : String(value))}
      />
      <InPlace
        what="what we know now"
        editable={mayWrite}
        startOpen={editing.restored}
        onDone={() => flush('again')}
        foot={<SaveLine state={editing} />}
        shown={
          values.text.trim() === '' ? (
            <p className="soft">Nothing is written yet.</p>
          ) : (
            <p className="pre">{values.text}</p>
          )
        }
      >
        <TextArea
          label={LABELS.text}
          rows={4}
          value={values.text}
          onChange={(value) => set('text', value)}
          onBlur={() => void flush()}
        />
      </InPlace>
    </Section>
  )
}
