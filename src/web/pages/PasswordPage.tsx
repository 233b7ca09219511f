import { useState } from 'react'
import { call } from '../lib/api.ts'
import { issuesByField } from '../lib/refusals.ts'
import { receiveSession, useMe } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { Form } from '../ui/Form.tsx'
import { NewPasswordField } from '../ui/NewPasswordField.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { TextField } from '../ui/TextField.tsx'

export function PasswordPage() {
  const me = useMe()
  const [current, setCurrent] = useState('')
  const [next, setNext] = useState('')
  const [done, setDone] = useState(false)
  const action = useAction()
  const issues = issuesByField(action.error)

  const change = async () => {
    setDone(false)
    const fine = await action.run(async () => {
      receiveSession(await call('POST /api/password', { body: { current, next } }))
    })
    if (!fine) return
    setCurrent('')
    setNext('')
    setDone(true)
  }

  return (
    <Page
      title="Change your password"
      crumbs={[{ label: 'Settings', href: '/settings' }]}
      lead={<p>Other devices where you are signed in are signed out.</p>}
    >
      <Form onSubmit={() => void change()}>
        {/* Tells a password keeper whose password this is. */}
        <input type="hidden" name="username" autoComplete="username" value={me.email} />
        <TextField
          label="Password now"
          type="password"
          name="current-password"
          autoComplete="current-password"
          required
          value={current}
          onChange={setCurrent}
          error={issues['current']}
        />
        <NewPasswordField
          label="New password"
          value={next}
          onChange={setNext}
          error={issues['next'] ?? issues['password']}
        />
        {action.error !== null && <ErrorNotice error={action.error} />}
        {done && (
          <Notice live>
            <p>Your password is changed.</p>
          </Notice>
        )}
        <div>
          <Button look="main" type="submit" busy={action.busy} busyText="Changing…">
            Change it
          </Button>
        </div>
      </Form>
    </Page>
  )
}
