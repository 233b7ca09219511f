import type { ComponentChildren } from 'preact'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'

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
    document.title = `${title} – Pawl`
    scrollTo(0, 0)
    // Before the button that was pressed goes: where the focus falls to the page itself, some screen
    // readers are silent about the next heading.
    return toMain
  }, [name])
  // After the frame, not with it: a heading that comes with the focus already on it is not read out.
  // biome-ignore lint/correctness/useExhaustiveDependencies: as above.
  useEffect(() => heading.current?.focus(), [name])
  return (
    <>
      <h1 key={name} ref={heading} tabIndex={-1}>
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

interface TextFieldProps {
  readonly id: string
  readonly label: string
  readonly hint?: string | undefined
  readonly value: string
  readonly error?: string | undefined
  /** Of a longer text; without it, the text stays on one line. */
  readonly rows?: number
  readonly class?: string
  readonly onText: (text: string) => void
}

export function TextField({
  id,
  label,
  hint,
  value,
  error,
  rows,
  class: look,
  onText,
}: TextFieldProps) {
  const Box = rows === undefined ? 'input' : 'textarea'
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {hint !== undefined && (
        <p class="small" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <Box
        id={id}
        class={look}
        rows={rows}
        value={value}
        maxLength={rows === undefined ? 40 : undefined}
        autocomplete="off"
        inputMode={id === 'table-number' ? 'numeric' : undefined}
        autocapitalize={look === 'code' ? 'characters' : 'sentences'}
        aria-invalid={error !== undefined}
        aria-describedby={`${id}-hint ${id}-error`}
        onInput={(event: { currentTarget: { value: string } }) => onText(event.currentTarget.value)}
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

/** Keeps the focus on the page when what has it is about to go. */
export function toMain(): void {
  document.querySelector('main')?.focus()
}

/** Puts the focus on what has to be corrected. */
export function focusOn(id: string): void {
  requestAnimationFrame(() => document.getElementById(id)?.focus())
}
