import { useState } from 'react'
import type { CycleReply } from '../../api/contract.ts'
import { call } from '../lib/api.ts'
import { formatInstant } from '../lib/dates.ts'
import { newId } from '../lib/ids.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { patchCycle } from './cycle-query.ts'

/** Notes that stand beside the locked plan: a correction is added, nothing is edited. */
export function Addenda({
  data,
  readOnly,
}: {
  readonly data: CycleReply
  readonly readOnly: boolean
}) {
  const { cycle, addenda, predictions, people } = data
  const form = useDraft(`addendum:${cycle.id}`, { text: '', about: '' })
  const [open, setOpen] = useState(form.restored)
  const [asked, setAsked] = useState(false)
  const action = useAction()
  const nameOf = (id: string) => people.find((p) => p.id === id)?.name ?? 'somebody'
  const measureOf = (predictionId: string | null) => {
    const found = predictions.find((p) => p.id === predictionId)
    return data.measures.find((m) => m.measure.id === found?.measureId)?.measure.name ?? null
  }
  const missing = form.values.text.trim() === '' ? 'Write the note.' : null

  const save = async () => {
    setAsked(true)
    if (missing !== null) return
    const fine = await action.run(async () => {
      const about = form.values.about
      const made = await call('POST /api/cycles/:id/addenda', {
        params: { id: cycle.id },
        body: {
          id: newId(),
          predictionId: about === '' ? null : about,
          text: form.values.text.trim(),
        },
      })
      patchCycle(cycle.id, (old) => ({ ...old, addenda: [...old.addenda, made] }))
    })
    if (!fine) return
    form.clear()
    setAsked(false)
    setOpen(false)
  }

  if (addenda.length === 0 && readOnly) return null
  return (
    <div className="addenda">
      {addenda.length > 0 && <h3>Added after the lock</h3>}
      {addenda.map((note) => {
        const about = measureOf(note.predictionId)
        return (
          <div className="addendum" key={note.id}>
            <p className="pre">{note.text}</p>
            <p className="small soft">
              {nameOf(note.byId)}, {formatInstant(note.at)}
              {about !== null && `; about the prediction for ${about}`}
            </p>
          </div>
        )
      })}
      {!readOnly && !open && <Button onClick={() => setOpen(true)}>Add a note to the plan</Button>}
      {open && (
        <form
          noValidate
          className="stack fill"
          onSubmit={(event) => {
            event.preventDefault()
            void save()
          }}
        >
          <div data-field="addendum">
            <TextArea
              label="Note to the plan"
              hint="It stands beside the locked plan, with your name and the time."
              value={form.values.text}
              onChange={(value) => form.set('text', value)}
              error={asked ? missing : null}
            />
          </div>
          {predictions.length > 0 && (
            <Select
              label="About"
              value={form.values.about}
              options={[
                { value: '', label: 'the plan as a whole' },
                ...predictions.map((p) => ({
                  value: p.id,
                  label: `the prediction for ${measureOf(p.id) ?? 'a measure'}`,
                })),
              ]}
              onChange={(value) => form.set('about', value)}
            />
          )}
          {action.error !== null && <ErrorNotice error={action.error} />}
          <div className="row">
            <Button type="submit" busy={action.busy} busyText="Adding…">
              Add the note
            </Button>
            <Button look="quiet" onClick={() => setOpen(false)}>
              Not now
            </Button>
          </div>
        </form>
      )}
    </div>
  )
}
