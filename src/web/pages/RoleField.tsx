import { ROLES, type Role } from '../../domain/record.ts'
import { RadioCards } from '../ui/RadioCards.tsx'
import { ROLE_WORDS } from './roles.ts'

export interface RoleFieldProps {
  readonly value: Role
  readonly onChange: (role: Role) => void
}

export function RoleField({ value, onChange }: RoleFieldProps) {
  return (
    <RadioCards<Role>
      legend="May do"
      value={value}
      onChange={onChange}
      choices={ROLES.map((role) => ({
        value: role,
        label: ROLE_WORDS[role].name,
        hint: ROLE_WORDS[role].does,
      }))}
    />
  )
}
