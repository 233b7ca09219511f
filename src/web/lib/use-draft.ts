import { useState } from 'react'
import { draftStore } from './drafts.ts'
import { useMe } from './session.ts'

export interface DraftForm<T> {
  readonly values: T
  readonly set: <K extends keyof T>(field: K, value: T[K]) => void
  /** Back to the beginning; call it once the server has acknowledged the record. */
  readonly clear: () => void
  /** Something typed earlier is in the form. */
  readonly restored: boolean
}

/**
 * The fields of a form for a record that does not exist yet, kept on this device until `clear`.
 * Not for passwords: what is kept here can be read by whoever uses the device.
 */
export function useDraft<T extends object>(key: string, initial: T): DraftForm<T> {
  const me = useMe()
  const store = draftStore(me.id, localStorage)
  const [form, setForm] = useState(() => {
    const draft = store.read(key)
    return {
      values: { ...initial, ...(draft?.fields as Partial<T> | undefined) },
      restored: draft !== null,
    }
  })
  return {
    ...form,
    set: (field, value) =>
      setForm(({ values, restored }) => {
        const next = { ...values, [field]: value }
        store.write(key, { version: 0, fields: next as Record<string, unknown>, base: {} })
        return { values: next, restored }
      }),
    clear: () => {
      store.remove(key)
      setForm({ values: initial, restored: false })
    },
  }
}
