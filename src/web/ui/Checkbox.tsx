import type { ReactNode } from 'react'

export interface CheckboxProps {
  readonly label: ReactNode
  readonly checked: boolean
  readonly onChange: (checked: boolean) => void
}

export function Checkbox({ label, checked, onChange }: CheckboxProps) {
  return (
    <label className="check">
      <input
        type="checkbox"
        checked={checked}
        onChange={(event) => onChange(event.target.checked)}
      />
      <span>{label}</span>
    </label>
  )
}
