import type { HTMLInputAutoCompleteAttribute, HTMLInputTypeAttribute, Ref } from 'react'
import { Field, type FieldProps } from './Field.tsx'

export interface TextFieldProps extends Omit<FieldProps, 'children'> {
  readonly value: string
  readonly onChange: (value: string) => void
  readonly onBlur?: () => void
  readonly type?: HTMLInputTypeAttribute
  readonly name?: string
  readonly inputMode?: 'text' | 'decimal' | 'numeric' | 'email'
  readonly autoComplete?: HTMLInputAutoCompleteAttribute
  readonly readOnly?: boolean
  /** A narrow box, for a number. */
  readonly short?: boolean
  readonly inputRef?: Ref<HTMLInputElement>
}

export function TextField({
  value,
  onChange,
  onBlur,
  type = 'text',
  name,
  inputMode,
  autoComplete = 'off',
  readOnly = false,
  short = false,
  inputRef,
  ...field
}: TextFieldProps) {
  return (
    <Field {...field}>
      {(control) => (
        <input
          {...control}
          ref={inputRef}
          className={short ? 'input short' : 'input'}
          type={type}
          name={name}
          inputMode={inputMode}
          autoComplete={autoComplete}
          readOnly={readOnly}
          value={value}
          onChange={(event) => onChange(event.target.value)}
          onBlur={onBlur}
        />
      )}
    </Field>
  )
}
