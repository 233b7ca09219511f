import { type ReactNode, useId, useLayoutEffect, useRef } from 'react'

export interface DialogProps {
  readonly title: ReactNode
  /** Escape, or the closing action. What was typed inside must survive it. */
  readonly onClose: () => void
  readonly wide?: boolean
  /** The buttons, the main one first; left out where a form inside brings its own. */
  readonly actions?: ReactNode
  readonly children: ReactNode
}

/**
 * A modal dialog, shown for as long as it is mounted. The browser's own: it keeps focus inside,
 * makes the page behind inert, and gives focus back where it was.
 */
export function Dialog({ title, onClose, wide = false, actions, children }: DialogProps) {
  const element = useRef<HTMLDialogElement>(null)
  const id = useId()
  useLayoutEffect(() => {
    const dialog = element.current
    dialog?.showModal()
    return () => dialog?.close()
  }, [])
  return (
    <dialog
      ref={element}
      className={wide ? 'dialog wide' : 'dialog'}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault()
        onClose()
      }}
    >
      <div className="dialog-inside">
        <h2 id={id}>{title}</h2>
        {children}
        {actions !== undefined && <div className="dialog-actions">{actions}</div>}
      </div>
    </dialog>
  )
}
