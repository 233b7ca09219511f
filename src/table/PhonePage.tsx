import { useState } from 'preact/hooks'
import { SEAT_ROLES, type SeatRole } from '../domain/workshop/room.ts'
import { Button, Screen, TextField } from './Screen.tsx'
import { useTable } from './use-phone.ts'
import { ROLE_WORDS } from './words.ts'

interface PhonePageProps {
  readonly onDone: () => void
  readonly onLeave?: () => void
}

/** What this phone does at the table. */
export function PhonePage({ onDone, onLeave }: PhonePageProps) {
  const { phone, view, table, state } = useTable()
  const [roles, setRoles] = useState<readonly SeatRole[]>(view.seat.roles)
  const [name, setName] = useState(view.seat.name)
  const save = (chosen: readonly SeatRole[]) => {
    phone.setRoles(chosen, name.trim())
    onDone()
  }
  return (
    <Screen
      name="phone"
      title="What does this phone do?"
      controls={
        <>
          <fieldset class="choices">
            <legend class="hidden">Parts of this phone</legend>
            {SEAT_ROLES.map((role) => (
              <label key={role} class="choice">
                <input
                  type="checkbox"
                  checked={roles.includes(role)}
                  onChange={({ currentTarget: { checked } }) =>
                    setRoles(checked ? [...roles, role] : roles.filter((r) => r !== role))
                  }
                />
                <span>{ROLE_WORDS[role]}</span>
              </label>
            ))}
          </fieldset>
          {onLeave !== undefined && (
            <>
              <TextField
                id="first-name"
                label="First name or role, if you like"
                value={name}
                onText={setName}
              />
              <p>
                Add another phone: room code {state.room.code}, number of the table{' '}
                <strong>{table.joinNumber}</strong>.
              </p>
            </>
          )}
          <Button as="main" onClick={() => save(roles.length === 0 ? SEAT_ROLES : roles)}>
            {roles.length === 0 ? 'It does everything' : 'That is it'}
          </Button>
          {onLeave !== undefined && (
            <Button as="link" onClick={onLeave}>
              Leave this table
            </Button>
          )}
        </>
      }
    >
      <p>Tick one part or several. A table with one phone ticks none.</p>
    </Screen>
  )
}
