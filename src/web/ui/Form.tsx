import { type ReactNode, useEffect, useRef } from 'react'

export interface FormProps {
  readonly onSubmit: () => void
  readonly children: ReactNode
}

/**
 * A form that Enter submits. The page checks, not the browser, and says beside each field what is
 * missing; focus goes to the first such field.
 */
export function Form({ onSubmit, children }: FormProps) {
  const form = useRef<HTMLFormElement>(null)
  const submitted = useRef(false)
  // After every render, since the answer that marks a field may come later than the press.
  useEffect(() => {
    if (!submitted.current) return
    const wrong = form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')
    if (wrong == null) return
    submitted.current = false
    wrong.focus()
  })
  return (
    <form
      ref={form}
      noValidate
      className="stack fill"
      onInput={() => {
        submitted.current = false
      }}
      onSubmit={(event) => {
        event.preventDefault()
        submitted.current = true
        onSubmit()
      }}
    >
      {children}
    </form>
  )
}
