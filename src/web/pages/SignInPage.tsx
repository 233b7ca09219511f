import { useState } from 'react'
import { call } from '../lib/api.ts'
import { receiveSession } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { FrontDoor } from '../shell/FrontDoor.tsx'
import { Button } from '../ui/Button.tsx'
import { Form } from '../ui/Form.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'

export interface SignInPageProps {
  /** The server ended the session while the person was at work. */
  readonly ended: boolean
}

export function SignInPage({ ended }: SignInPageProps) {
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const action = useAction()

  const signIn = () =>
    action.run(async () => {
      receiveSession(await call('POST /api/session', { body: { email: email.trim(), password } }))
    })

  return (
    <FrontDoor title="Sign in">
      {ended && (
        <Notice live>
          <p>Your session has ended. What you typed is kept on this device; sign in to go on.</p>
        </Notice>
      )}
      <Form onSubmit={() => void signIn()}>
        <TextField
          label="E-mail"
          type="email"
          name="email"
          autoComplete="username"
          required
          value={email}
          onChange={setEmail}
        />
        <TextField
          label="Password"
          type="password"
          name="password"
          autoComplete="current-password"
          required
          value={password}
          onChange={setPassword}
        />
        {action.error !== null && <ErrorNotice error={action.error} />}
        <div>
          <Button look="main" type="submit" busy={action.busy} busyText="Signing in…">
            Sign in
          </Button>
        </div>
      </Form>
      <p className="small soft">
        No account, or the password is gone? Ask the person who runs Pawl here: an owner makes
        accounts and sets new passwords.
      </p>
    </FrontDoor>
  )
}
