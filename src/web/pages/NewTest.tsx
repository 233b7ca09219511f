import { useState } from 'react'
import { useLocation } from 'wouter'
import type { Id } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { issuesByField } from '../lib/refusals.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { Form } from '../ui/Form.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'

/** Opens a test of a new idea: its title, then its page. */
export function NewTest({ projectId }: { projectId: Id }) {
  const [, navigate] = useLocation()
  const form = useDraft(`new-test:${projectId}`, { title: '' })
  const [open, setOpen] = useState(form.restored)
  const [asked, setAsked] = useState(false)
  const [id] = useState(newId)
  const action = useAction()
  const missing = form.values.title.trim() === '' ? 'Say in a few words what will be tried.' : null

  const create = async () => {
    setAsked(true)
    if (missing !== null) return
    const fine = await action.run(() =>
      call('POST /api/cycles', {
        body: { id, projectId, title: form.values.title.trim(), buildsOnId: null },
      }),
    )
    if (!fine) return
    form.clear()
    navigate(`/tests/${id}`)
  }

  if (!open) {
    return (
      <Button look="main" onClick={() => setOpen(true)}>
        New test of change
      </Button>
    )
  }
  return (
    <Form onSubmit={() => void create()}>
      <TextField
        label="What will be tried"
        hint="A few words, such as “Tray card on the early shift”. To build on an earlier test, open that one and adapt it."
        required
        // The button that stood here had the focus.
        inputRef={(input) => {
          if (input !== null && document.activeElement === document.body) input.focus()
        }}
        value={form.values.title}
        onChange={(value) => form.set('title', value)}
        error={(asked ? missing : null) ?? issuesByField(action.error)['title']}
      />
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button look="main" type="submit" busy={action.busy} busyText="Opening the test…">
          Open the test
        </Button>
        <Button look="quiet" onClick={() => setOpen(false)}>
          Not now
        </Button>
      </div>
    </Form>
  )
}
