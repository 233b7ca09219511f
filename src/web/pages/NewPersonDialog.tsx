import { useState } from 'react'
import type { Role } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { issuesByField } from '../lib/refusals.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import { Form } from '../ui/Form.tsx'
import { NewPasswordField } from '../ui/NewPasswordField.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'
import { RoleField } from './RoleField.tsx'

export interface NewPersonDialogProps {
  readonly onClose: () => void
  readonly onDone: () => void
}

/** Makes an account. Its first password is told to the person, who then changes it. */
export function NewPersonDialog({ onClose, onDone }: NewPersonDialogProps) {
  const [id] = useState(newId)
  const form = useDraft('new-person', { name: '', email: '', role: 'member' as Role })
  const [password, setPassword] = useState('')
  const action = useAction()
  const issues = issuesByField(action.error)
  const { values, set } = form

  const create = async () => {
    const fine = await action.run(() =>
      call('POST /api/people', {
        body: {
          id,
          name: values.name.trim(),
          email: values.email.trim(),
          role: values.role,
          password,
        },
      }),
    )
    if (!fine) return
    form.clear()
    onDone()
  }

  return (
    <Dialog title="Add a person" onClose={onClose}>
      <Form onSubmit={() => void create()}>
        <TextField
          label="Name"
          required
          value={values.name}
          onChange={(value) => set('name', value)}
          error={issues['name']}
        />
        <TextField
          label="E-mail"
          hint="They sign in with it. Pawl sends no mail: tell them the password yourself."
          type="email"
          required
          value={values.email}
          onChange={(value) => set('email', value)}
          error={issues['email']}
        />
        <RoleField value={values.role} onChange={(value) => set('role', value)} />
        <NewPasswordField
          label="First password"
          value={password}
          onChange={setPassword}
          error={issues['password']}
        />
        {action.error !== null && <ErrorNotice error={action.error} />}
        <div className="row">
          <Button look="main" type="submit" busy={action.busy} busyText="Adding…">
            Add the person
          </Button>
          <Button look="quiet" onClick={onClose}>
            Not now
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}
