import { useState } from 'react'
import { call } from '../lib/api.ts'
import { issuesByField } from '../lib/refusals.ts'
import { receiveSession } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { FrontDoor } from '../shell/FrontDoor.tsx'
import { Button } from '../ui/Button.tsx'
import { Form } from '../ui/Form.tsx'
import { NewPasswordField } from '../ui/NewPasswordField.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { TextField } from '../ui/TextField.tsx'

/** Makes the owner account. Shown until it exists, and never again. */
export function FirstVisitPage() {
  const [name, setName] = useState('')
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const action = useAction()
  const issues = issuesByField(action.error)

  const create = () =>
    action.run(async () => {
      receiveSession(
        await call('POST /api/owner', {
          body: { name: name.trim(), email: email.trim(), password },
        }),
      )
    })

  return (
    <FrontDoor title="Make your account">
      <p>
        Pawl keeps your tests of change: what you predicted, what happened, and what you decided.
        Nobody has used this copy yet. The first account is the owner’s: it can add people and set
        what they may do.
      </p>
      <Form onSubmit={() => void create()}>
        <TextField
          label="Your name"
          name="name"
          autoComplete="name"
          required
          value={name}
          onChange={setName}
          error={issues['name']}
        />
        <TextField
          label="E-mail"
          hint="You sign in with it. Pawl sends no mail."
          type="email"
          name="email"
          autoComplete="username"
          required
          value={email}
          onChange={setEmail}
          error={issues['email']}
        />
        <NewPasswordField
          label="Password"
          value={password}
          onChange={setPassword}
          error={issues['password']}
        />
        {action.error !== null && <ErrorNotice error={action.error} />}
        <div>
          <Button look="main" type="submit" busy={action.busy} busyText="Making your account…">
            Make the account
          </Button>
        </div>
      </Form>
    </FrontDoor>
  )
}
