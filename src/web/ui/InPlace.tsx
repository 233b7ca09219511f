import { type ReactNode, useEffect, useRef, useState } from 'react'
import { Button } from './Button.tsx'

export interface InPlaceProps {
  /** What is edited, for the button: `the aim`. */
  readonly what: string
  readonly editable: boolean
  /** Open from the start, such as when text typed earlier was found. */
  readonly startOpen?: boolean
  /** How it reads. */
  readonly shown: ReactNode
  /** Saves; the fields stay open when it resolves to `false`. */
  readonly onDone: () => Promise<boolean>
  /** Stands beside the button while the fields are open. */
  readonly foot?: ReactNode
  /** The fields. */
  readonly children: ReactNode
}

/** Text that turns into its fields where it stands, and back. */
export function InPlace(props: InPlaceProps) {
  const { what, editable, startOpen = false, shown, onDone, foot, children } = props
  const [open, setOpen] = useState(startOpen && editable)
  const box = useRef<HTMLDivElement>(null)
  const moved = useRef(false)

  // Focus follows the change: into the first field, and back to the button.
  useEffect(() => {
    if (!moved.current) return
    const target = box.current?.querySelector<HTMLElement>(
      open ? 'input, textarea, select' : 'button',
    )
    target?.focus()
  }, [open])

  const turn = (next: boolean) => {
    moved.current = true
    setOpen(next)
  }
  const done = async () => {
    if (await onDone()) turn(false)
  }

  if (!open) {
    return (
      <div className="stack tight" ref={box}>
        {shown}
        {editable && (
          <Button look="quiet" onClick={() => turn(true)}>
            {`Edit ${what}`}
          </Button>
        )}
      </div>
    )
  }
  return (
    <div className="stack fill in-place" ref={box}>
      {children}
      <div className="row">
        <Button onClick={() => void done()}>Done</Button>
        {foot}
      </div>
    </div>
  )
}
