import { useEffect, useRef, useState } from 'react'
import { useLocation } from 'wouter'
import { asAppError } from '../lib/api.ts'
import { undoOffer } from '../lib/undo.ts'
import { useStore } from '../lib/use-store.ts'
import { Button } from '../ui/Button.tsx'

/** Says what was just done and takes it back on request. Stays until used, closed or overtaken. */
export function UndoBar() {
  const offer = useStore(undoOffer)
  const [path] = useLocation()
  const bar = useRef<HTMLDivElement>(null)
  const [busy, setBusy] = useState(false)
  const [failed, setFailed] = useState<string | null>(null)

  // biome-ignore lint/correctness/useExhaustiveDependencies: a new offer starts afresh.
  useEffect(() => setFailed(null), [offer])
  // biome-ignore lint/correctness/useExhaustiveDependencies: leaving the page accepts what was done.
  useEffect(() => () => undoOffer.set(null), [path])

  // Where the thing that was removed had the focus, Undo is the next thing at hand. Looked at once the
  // dialog has closed and the list is drawn anew.
  useEffect(() => {
    if (offer === null) return
    const timer = setTimeout(() => {
      if (document.activeElement === document.body) {
        bar.current?.querySelector('button')?.focus()
      }
    }, 300)
    return () => clearTimeout(timer)
  }, [offer])

  const undo = async () => {
    if (offer === null) return
    setBusy(true)
    try {
      await offer.undo()
      undoOffer.set(null)
    } catch (error) {
      const { message, hint } = asAppError(error)
      setFailed(`${message} ${hint}`)
    } finally {
      setBusy(false)
    }
  }

  return (
    <div role="status" ref={bar}>
      {offer !== null && (
        <div className="undo">
          <span>{failed ?? offer.text}</span>
          {failed === null && (
            <Button busy={busy} busyText="Undoing…" onClick={() => void undo()}>
              Undo
            </Button>
          )}
          <Button className="small" onClick={() => undoOffer.set(null)}>
            Close
          </Button>
        </div>
      )}
    </div>
  )
}
