import { useEffect, useMemo, useRef, useState } from 'react'
import type { Measure } from '../../domain/record.ts'
import { editableValue } from '../../domain/value-text.ts'
import { draftStore } from '../lib/drafts.ts'
import { useMe } from '../lib/session.ts'
import { Button } from '../ui/Button.tsx'
import { TextField } from '../ui/TextField.tsx'
import { readEntry } from './number-entry.ts'

export interface ValueFieldProps {
  readonly measure: Pick<Measure, 'dataKind' | 'valueFormat'>
  readonly label: string
  readonly hint?: string
  readonly optional?: boolean
  readonly value: number | null
  readonly onChange: (value: number | null) => void
  readonly onBlur?: () => void
  /** What is wrong with the value itself; text that cannot be read is named by the field. */
  readonly error?: string | null
  /** Names the text while it cannot be read yet, so that it is kept on this device. */
  readonly draftKey: string
  /** Called while the text stands for no value yet: the picture and the lock wait for it. */
  readonly onUnread?: (unread: boolean) => void
}

/**
 * A value typed in the measure's own way. A bare number that could be a stopwatch read without its
 * colon is asked about; until it is answered the text is kept on this device and no value is set.
 */
export function ValueField(props: ValueFieldProps) {
  const { measure, label, value, onChange, draftKey, onUnread } = props
  const me = useMe()
  const store = useMemo(() => draftStore(me.id, localStorage), [me.id])
  const [text, setText] = useState<string>(() => {
    const kept = store.read(draftKey)?.fields['text']
    return typeof kept === 'string' ? kept : editableValue(measure, value)
  })
  const [left, setLeft] = useState(true)
  const reading = readEntry(measure, text)
  const unread = reading.kind === 'question' || reading.kind === 'error'
  const input = useRef<HTMLInputElement>(null)

  // A value that came from elsewhere replaces the text, unless the text says the same already.
  const known = useRef(value)
  useEffect(() => {
    if (known.current === value) return
    known.current = value
    setText((old) => {
      const now = readEntry(measure, old)
      const says = now.kind === 'value' ? now.value : null
      return says === value ? old : editableValue(measure, value)
    })
  }, [value, measure])

  useEffect(() => onUnread?.(unread), [unread, onUnread])

  const type = (next: string) => {
    setText(next)
    setLeft(false)
    const now = readEntry(measure, next)
    if (now.kind === 'question' || now.kind === 'error') {
      store.write(draftKey, { version: 0, fields: { text: next }, base: {} })
    } else store.remove(draftKey)
    // Text without one clear reading stands for no value: not for the one before the last key.
    known.current = now.kind === 'value' ? now.value : null
    onChange(known.current)
  }

  return (
    <div className="value-field">
      <TextField
        label={label}
        short
        inputMode={measure.valueFormat === 'duration' ? 'text' : 'decimal'}
        value={text}
        onChange={type}
        onBlur={() => {
          setLeft(true)
          props.onBlur?.()
        }}
        hint={props.hint}
        optional={props.optional ?? false}
        inputRef={input}
        error={reading.kind === 'error' && left ? reading.message : unread ? null : props.error}
      />
      <div aria-live="polite" className="value-question">
        {reading.kind === 'question' && (
          <>
            <p>{reading.message}</p>
            <div className="row">
              {reading.choices.map((choice) => (
                <Button
                  key={choice.text}
                  onClick={() => {
                    type(choice.text)
                    setLeft(true)
                    input.current?.focus()
                  }}
                >
                  {choice.label}
                </Button>
              ))}
            </div>
          </>
        )}
      </div>
    </div>
  )
}
