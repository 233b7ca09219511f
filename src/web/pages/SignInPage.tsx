import { useState } from 'react'
import type { AppError } from '../../errors.ts'
import { asAppError, call } from '../lib/api.ts'
import { receiveSession } from '../lib/session.ts'
import { FrontDoor } from '../shell/FrontDoor.tsx'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'

export interface SignInPageProps {
  /** The server ended the session while the person was at work. */
  readonly ended: boolean
}

export function SignInPage({ ended }: SignInPageProps) {
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const [busy, setBusy] = useState(false)
  const [error, setError] = useState<AppError | null>(null)

  const signIn = async () => {
    if (busy) return
    setBusy(true)
    setError(null)
    try {
      receiveSession(await call('POST /api/session', { body: { email: email.trim(), password } }))
    } catch (thrown) {
      setError(asAppError(thrown))
      setBusy(false)
    }
  }

  return (
    <FrontDoor title="Sign in">
      {ended && (
        <Notice>
          <p>Your session has ended. What you typed is kept on this device; sign in to go on.</p>
        </Notice>
      )}
      <form
        className="stack fill"
        onSubmit={(event) => {
          event.preventDefault()
          void signIn()
        }}
      >
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
        {error !== null && <ErrorNotice error={error} />}
        <div>
          <Button look="main" type="submit" busy={busy} busyText="Signing in…">
            Sign in
          </Button>
        </div>
      </form>
      <p className="small soft">
        No account, or the password is gone? Ask the person who runs Pawl here: an owner makes
        accounts and sets new passwords.
      </p>
    </FrontDoor>
  )
}
