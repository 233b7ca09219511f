import { useState } from 'react'
import { Checkbox } from './Checkbox.tsx'
import { TextField } from './TextField.tsx'

export interface NewPasswordFieldProps {
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
  readonly error?: string | null | undefined
}

/** A new password, which its maker may look at: typing it twice teaches nothing. */
export function NewPasswordField({ label, value, onChange, error }: NewPasswordFieldProps) {
  const [shown, setShown] = useState(false)
  return (
    <div className="stack tight fill">
      <TextField
        label={label}
        hint="At least 12 characters. Three or four words that do not belong together are easy to remember."
        type={shown ? 'text' : 'password'}
        name="new-password"
        autoComplete="new-password"
        required
        value={value}
        onChange={onChange}
        error={error}
      />
      <Checkbox label="Show the password" checked={shown} onChange={setShown} />
    </div>
  )
}
