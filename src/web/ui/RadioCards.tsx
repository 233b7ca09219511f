import { type ReactNode, useId } from 'react'

interface Choice<V extends string> {
  readonly value: V
  readonly label: ReactNode
  readonly hint?: ReactNode
}

export interface RadioCardsProps<V extends string> {
  readonly legend: ReactNode
  readonly hint?: ReactNode
  readonly error?: string | null | undefined
  /** `null`: nothing chosen yet. */
  readonly value: V | null
  readonly choices: readonly Choice<V>[]
  readonly onChange: (value: V) => void
  /** Side by side where there is room. */
  readonly across?: boolean
}

/** One of a few, all in view. Native radio buttons: arrow keys move, one tab stop. */
export function RadioCards<V extends string>({
  legend,
  hint,
  error,
  value,
  choices,
  onChange,
  across = false,
}: RadioCardsProps<V>) {
  const id = useId()
  const described = [hint ? `${id}-hint` : '', error ? `${id}-error` : ''].filter(Boolean).join(' ')
  return (
    <fieldset className="group" aria-describedby={described === '' ? undefined : described}>
      <legend>{legend}</legend>
      {hint && (
        <p className="group-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <div className={across ? 'choices across' : 'choices'}>
        {choices.map((choice) => (
          <label key={choice.value} className="choice">
            <input
              type="radio"
              name={id}
              value={choice.value}
              checked={choice.value === value}
              onChange={() => onChange(choice.value)}
            />
            <span className="choice-label">{choice.label}</span>
            {choice.hint && <span className="choice-hint">{choice.hint}</span>}
          </label>
        ))}
      </div>
      {error && (
        <p className="field-error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </fieldset>
  )
}
