import { useEffect, useRef, useState } from 'react'
import { TextArea } from '../../ui/TextArea.tsx'
import { KEYED_FIELDS } from './ConsoleKeys.tsx'
import { useConsole } from './use-console.ts'

const IDLE = 1500

/** The text on this device that the server does not have yet; `null`: there is none. */
function keptNotes(key: string): string | null {
  try {
    return localStorage.getItem(key)
  } catch {
    return null
  }
}

function keepNotes(key: string, text: string | null): void {
  try {
    if (text === null) localStorage.removeItem(key)
    else localStorage.setItem(key, text)
  } catch {
    // Without storage the text is in the field until the page is closed.
  }
}

/** The facilitator's own notes; kept on this device until the server has them. */
export function ConsoleNotes() {
  const { state, act } = useConsole()
  const { id, notes } = state.room
  const key = `pawl.notes.${id}`
  const [text, setText] = useState(() => keptNotes(key) ?? notes ?? '')
  const [line, setLine] = useState('')
  const timer = useRef<number | null>(null)
  const dirty = useRef(keptNotes(key) !== null)
  const typed = useRef(text)
  useEffect(() => {
    if (!dirty.current) setText(notes ?? '')
  }, [notes])
  const save = async (value: string) => {
    if (timer.current !== null) window.clearTimeout(timer.current)
    timer.current = null
    if (!dirty.current) return
    setLine('Saving…')
    const saved = await act({ kind: 'notes', text: value })
    // Typed on in the meantime: the newer text is saved after its own pause.
    if (saved && typed.current === value) {
      dirty.current = false
      keepNotes(key, null)
    }
    setLine(saved ? 'Saved' : 'Not saved yet; kept on this device')
  }
  const type = (value: string) => {
    dirty.current = true
    typed.current = value
    keepNotes(key, value)
    setText(value)
    setLine('')
    if (timer.current !== null) window.clearTimeout(timer.current)
    timer.current = window.setTimeout(() => void save(value), IDLE)
  }
  return (
    <section className="console-part" aria-label="Notes">
      <TextArea
        label="My notes"
        name={KEYED_FIELDS.notes}
        hint="Only facilitators see them."
        rows={3}
        value={text}
        onChange={type}
        onBlur={() => void save(text)}
      />
      <p className="save-line" role="status">
        {line}
      </p>
    </section>
  )
}
