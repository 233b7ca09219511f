import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import type { RoomState, TableState } from '../domain/workshop/room-state.ts'
import type { Phone, View } from './phone.ts'
import type { Where } from './step.ts'

/** What every step works with. */
export interface AtTable {
  readonly phone: Phone
  readonly view: View
  readonly state: RoomState
  readonly table: TableState
  readonly where: Where
  /** Takes over a part that another phone has. */
  readonly take: (part: string) => void
}

let current: AtTable | null = null

/** Has the steps inside it find their table. A page sits at one at a time; a context would weigh more. */
export function Seated({ at, children }: { at: AtTable; children: ComponentChildren }) {
  current = at
  return children
}

export const useTable = (): AtTable => current!

/** The phone's state, kept up to date. */
export function useView(phone: Phone): View {
  const [view, setView] = useState(phone.get())
  useEffect(() => {
    setView(phone.get())
    return phone.subscribe(() => setView(phone.get()))
  }, [phone])
  return view
}

/** Something typed or chosen on this phone, kept there until it is cleared. */
export function useDraft<T>(
  phone: Phone,
  name: string,
  initial: T,
): [T, (value: T | null) => void] {
  const [held, setHeld] = useState<{ name: string; value: T | null }>(() => ({
    name,
    value: phone.draft<T>(name),
  }))
  const current = held.name === name ? held.value : phone.draft<T>(name)
  return [
    current ?? initial,
    (value) => {
      phone.keepDraft(name, value)
      setHeld({ name, value })
    },
  ]
}

/** Redraws at a steady beat. */
export function useBeat(ms: number): void {
  const [, setBeat] = useState(0)
  useEffect(() => {
    const timer = setInterval(() => setBeat((n) => n + 1), ms)
    return () => clearInterval(timer)
  }, [ms])
}
