import { useLayoutEffect, useRef } from 'react'
import { Field, type FieldProps } from './Field.tsx'

export interface TextAreaProps extends Omit<FieldProps, 'children'> {
  readonly value: string
  readonly onChange: (value: string) => void
  readonly onBlur?: () => void
  readonly name?: string
  /** Lines to begin with; it grows with the text. */
  readonly rows?: number
  readonly readOnly?: boolean
}

const GROWS_BY_ITSELF = typeof CSS !== 'undefined' && CSS.supports('field-sizing', 'content')

/** Text of any length; the box grows with what is typed. */
export function TextArea({
  value,
  onChange,
  onBlur,
  name,
  rows = 2,
  readOnly = false,
  ...field
}: TextAreaProps) {
  const box = useRef<HTMLTextAreaElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the height follows the text.
  useLayoutEffect(() => {
    const element = box.current
    if (GROWS_BY_ITSELF || element === null) return
    element.style.height = 'auto'
    element.style.height = `${element.scrollHeight + 2}px`
  }, [value])
  return (
    <Field {...field}>
      {(control) => (
        <textarea
          {...control}
          ref={box}
          className="input"
          name={name}
          rows={rows}
          style={{ minHeight: `calc(${rows}lh + 20px)` }}
          readOnly={readOnly}
          value={value}
          onChange={(event) => onChange(event.target.value)}
          onBlur={onBlur}
        />
      )}
    </Field>
  )
}
