import { type ReactNode, useId } from 'react'

/** What a control needs so that its label, hint and error are read out with it. */
interface ControlProps {
  readonly id: string
  readonly 'aria-describedby': string | undefined
  readonly 'aria-invalid': true | undefined
  readonly 'aria-required': true | undefined
}

export interface FieldProps {
  readonly label: ReactNode
  readonly hint?: ReactNode
  /** What is wrong here and what to do, in one sentence. */
  readonly error?: string | null | undefined
  /** Says so beside the label; fields not marked are asked for. */
  readonly optional?: boolean
  readonly required?: boolean
  readonly className?: string
  readonly children: (control: ControlProps) => ReactNode
}

/** A labelled control with its hint and its error; the building block of the other fields. */
export function Field({
  label,
  hint,
  error,
  optional = false,
  required = false,
  className,
  children,
}: FieldProps) {
  const id = useId()
  const described = [hint ? `${id}-hint` : '', error ? `${id}-error` : ''].filter(Boolean).join(' ')
  return (
    <div className={className === undefined ? 'field' : `field ${className}`}>
      <label htmlFor={id}>
        {label}
        {optional && <span className="optional"> (if you like)</span>}
      </label>
      {hint && (
        <p className="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {children({
        id,
        'aria-describedby': described === '' ? undefined : described,
        'aria-invalid': error ? true : undefined,
        'aria-required': required ? true : undefined,
      })}
      {error && (
        <p className="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  )
}
