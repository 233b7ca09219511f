import { useState } from 'react'
import type { Person, Role } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { isStale, issuesByField } from '../lib/refusals.ts'
import { useMe } from '../lib/session.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import { Form } from '../ui/Form.tsx'
import { NewPasswordField } from '../ui/NewPasswordField.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'
import { RoleField } from './RoleField.tsx'

export interface PersonDialogProps {
  readonly person: Person
  readonly onClose: () => void
  readonly onDone: () => void
  /** Something was taken back after the dialog had closed. */
  readonly onGone: () => void
}

/** Changes what a person may do, sets a new password, closes or opens the account. */
export function PersonDialog({ person, onClose, onDone, onGone }: PersonDialogProps) {
  const me = useMe()
  const [name, setName] = useState(person.name)
  const [role, setRole] = useState<Role>(person.role)
  const [password, setPassword] = useState('')
  const [setting, setSetting] = useState(false)
  const action = useAction()
  const issues = issuesByField(action.error)
  const params = { id: person.id }

  const save = async () => {
    const fine = await action.run(async () => {
      const saved = await call('PATCH /api/people/:id', {
        params,
        body: {
          version: person.version,
          name: name.trim(),
          role,
          ...(password === '' ? {} : { password }),
        },
      })
      if (password !== '') return
      offerUndo(`${saved.name} is changed.`, async () => {
        await call('PATCH /api/people/:id', {
          params,
          body: { version: saved.version, name: person.name, role: person.role },
        })
        onGone()
      })
    })
    if (fine) onDone()
  }

  const close = async (closedAt: string | null) => {
    const fine = await action.run(async () => {
      const saved = await call('PATCH /api/people/:id', {
        params,
        body: { version: person.version, closedAt },
      })
      const text = closedAt === null ? 'open again' : 'closed'
      offerUndo(`The account of ${saved.name} is ${text}.`, async () => {
        await call('PATCH /api/people/:id', {
          params,
          body: { version: saved.version, closedAt: person.closedAt },
        })
        onGone()
      })
    })
    if (fine) onDone()
  }

  return (
    <Dialog title={`Change ${person.name}`} onClose={onClose}>
      <Form onSubmit={() => void save()}>
        <TextField label="Name" required value={name} onChange={setName} error={issues['name']} />
        <RoleField value={role} onChange={setRole} />
        {person.email !== null &&
          (setting ? (
            <NewPasswordField
              label={`New password for ${person.name}`}
              value={password}
              onChange={setPassword}
              error={issues['password']}
            />
          ) : (
            <div>
              <Button look="quiet" onClick={() => setSetting(true)}>
                Set a new password
              </Button>
            </div>
          ))}
        {action.error !== null && (
          <ErrorNotice error={action.error}>
            {isStale(action.error) && (
              <Button onClick={onDone}>Show the people as they are now</Button>
            )}
          </ErrorNotice>
        )}
        <div className="row">
          <Button look="main" type="submit" busy={action.busy} busyText="Saving…">
            Save
          </Button>
          {person.closedAt !== null ? (
            <Button onClick={() => void close(null)}>Open the account again</Button>
          ) : (
            person.id !== me.id && (
              <Button onClick={() => void close(new Date().toISOString())}>
                Close the account
              </Button>
            )
          )}
          <Button look="quiet" onClick={onClose}>
            Leave it as it is
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}
