import { useEffect, useState } from 'react'

const KEPT = 'pawl.console-keys'

function wanted(): boolean {
  try {
    return localStorage.getItem(KEPT) !== 'off'
  } catch {
    return true
  }
}

/** Whether single keys work here; kept on this device (WCAG 2.2, 2.1.4: they can be turned off). */
export function useKeysWanted(): [boolean, (on: boolean) => void] {
  const [on, setOn] = useState(wanted)
  const choose = (next: boolean) => {
    setOn(next)
    try {
      localStorage.setItem(KEPT, next ? 'on' : 'off')
    } catch {
      // Without storage the choice holds until the page is closed.
    }
  }
  return [on, choose]
}

/**
 * Whether a pressed key may be a shortcut: alone, and nowhere that takes letters itself, such as a
 * field, a list or a dialog.
 */
export function isFreeKey(event: {
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
  readonly repeat: boolean
  readonly target: unknown
}): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return false
  const closest = (event.target as { closest?: (selector: string) => unknown } | null)?.closest
  return (
    closest === undefined ||
    closest.call(event.target, 'input, textarea, select, dialog, [contenteditable]') === null
  )
}

/**
 * Single-key shortcuts for as long as the component is shown.
 *
 * @param keys What each key does, by its character in lower case.
 */
export function useKeys(on: boolean, keys: Readonly<Record<string, () => void>>): void {
  useEffect(() => {
    if (!on) return
    const press = (event: KeyboardEvent) => {
      const work = keys[event.key.toLowerCase()]
      if (work === undefined || !isFreeKey(event)) return
      event.preventDefault()
      work()
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  }, [on, keys])
}
