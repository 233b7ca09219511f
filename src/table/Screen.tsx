import type { ComponentChildren } from 'preact'
import { useLayoutEffect, useRef } from 'preact/hooks'

interface ScreenProps {
  /** Changes when there is something else to do; the focus then goes to the heading. */
  readonly name: string
  readonly title: string
  readonly children?: ComponentChildren
  /** At the bottom, where thumbs are. */
  readonly controls?: ComponentChildren
}

/** One thing to do: what it is above, what to press below. */
export function Screen({ name, title, children, controls }: ScreenProps) {
  const heading = useRef<HTMLHeadingElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new name is a new thing to do.
  useLayoutEffect(() => {
    heading.current?.focus()
    scrollTo(0, 0)
  }, [name])
  return (
    <>
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      <div class="body">{children}</div>
      <div class="controls">{controls}</div>
    </>
  )
}

interface ButtonProps {
  readonly onClick: () => void
  readonly children: ComponentChildren
  /** `main`: the one thing to do here. `huge`: fills the lower half. */
  readonly as?: 'main' | 'huge' | 'plain' | 'link'
  readonly disabled?: boolean
  readonly pressed?: boolean
}

export function Button({ onClick, children, as = 'plain', disabled, pressed }: ButtonProps) {
  return (
    <button
      type="button"
      class={as}
      onClick={onClick}
      disabled={disabled ?? false}
      aria-pressed={pressed}
    >
      {children}
    </button>
  )
}

interface TextAreaProps {
  readonly id: string
  readonly label: string
  readonly hint?: string | undefined
  readonly value: string
  readonly error?: string | undefined
  readonly rows?: number
  readonly onText: (text: string) => void
}

export function TextArea({ id, label, hint, value, error, rows = 3, onText }: TextAreaProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {hint !== undefined && (
        <p class="small" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <textarea
        id={id}
        rows={rows}
        value={value}
        aria-invalid={error !== undefined}
        aria-describedby={[hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ')}
        onInput={(event) => onText(event.currentTarget.value)}
      />
      <FieldError id={id} error={error} />
    </div>
  )
}

interface TextInputProps {
  readonly id: string
  readonly label: string
  readonly value: string
  readonly error?: string | undefined
  readonly class?: string
  readonly onText: (text: string) => void
}

/** A short text on one line. */
export function TextInput({ id, label, value, error, class: look, onText }: TextInputProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        class={look}
        value={value}
        maxLength={40}
        autocomplete="off"
        inputMode={id === 'table-number' ? 'numeric' : undefined}
        autocapitalize={look === 'code' ? 'characters' : 'sentences'}
        aria-invalid={error !== undefined}
        aria-describedby={error && `${id}-error`}
        onInput={(event) => onText(event.currentTarget.value)}
      />
      <FieldError id={id} error={error} />
    </div>
  )
}

export function FieldError({ id, error }: { id: string; error: string | undefined }) {
  return error === undefined ? null : (
    <p class="error" id={`${id}-error`}>
      {error}
    </p>
  )
}

/** Puts the focus on what has to be corrected. */
export function focusOn(id: string): void {
  requestAnimationFrame(() => document.getElementById(id)?.focus())
}
