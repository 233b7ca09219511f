import { Field, type FieldProps } from './Field.tsx'

interface Option<V extends string> {
  readonly value: V
  readonly label: string
}

export interface SelectProps<V extends string> extends Omit<FieldProps, 'children'> {
  readonly value: V
  readonly options: readonly Option<V>[]
  readonly onChange: (value: V) => void
  readonly onBlur?: () => void
  readonly name?: string
}

/** One of several: the platform's own list, which phones and screen readers know. */
export function Select<V extends string>({
  value,
  options,
  onChange,
  onBlur,
  name,
  ...field
}: SelectProps<V>) {
  return (
    <Field {...field}>
      {(control) => (
        <select
          {...control}
          className="input"
          name={name}
          value={value}
          onChange={(event) => {
            const chosen = options[event.target.selectedIndex]
            if (chosen !== undefined) onChange(chosen.value)
          }}
          onBlur={onBlur}
        >
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  )
}
