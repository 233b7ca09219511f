import type { DateText } from '../../domain/record.ts'
import { Field, type FieldProps } from './Field.tsx'

export interface DateFieldProps extends Omit<FieldProps, 'children'> {
  readonly value: DateText | null
  readonly onChange: (value: DateText | null) => void
  readonly onBlur?: () => void
  readonly name?: string
  readonly min?: DateText
  readonly max?: DateText
}

/** A calendar date, typed or picked in the reader's own format, kept as `YYYY-MM-DD`. */
export function DateField({ value, onChange, onBlur, name, min, max, ...field }: DateFieldProps) {
  return (
    <Field {...field}>
      {(control) => (
        <input
          {...control}
          className="input date"
          type="date"
          name={name}
          min={min}
          max={max}
          value={value ?? ''}
          onChange={(event) => onChange(event.target.value === '' ? null : event.target.value)}
          onBlur={onBlur}
        />
      )}
    </Field>
  )
}
