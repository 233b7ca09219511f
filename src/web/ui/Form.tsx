import type { ReactNode } from 'react'

export interface FormProps {
  readonly onSubmit: () => void
  readonly children: ReactNode
}

/** A form that Enter submits; the page checks and says what is missing, not the browser. */
export function Form({ onSubmit, children }: FormProps) {
  return (
    <form
      noValidate
      className="stack fill"
      onSubmit={(event) => {
        event.preventDefault()
        onSubmit()
      }}
    >
      {children}
    </form>
  )
}
