import { useEffect } from 'react'

const FOCUSABLE = 'input, button, a[href], select, textarea, [tabindex="0"]'

/**
 * Keeps the keyboard's place when the control with the focus goes away, as a button does that has
 * done its work. Focus moves to the home of the nearest part that is still there: an element with
 * `data-focus-home` names it by a selector; without one it is the first control of that part.
 */
export function useFocusHome(): void {
  useEffect(() => {
    let last: { element: Element; above: Element[] } | null = null
    const remember = (event: FocusEvent) => {
      const element = event.target
      if (!(element instanceof Element)) return
      const above: Element[] = []
      for (let at = element.parentElement; at !== null; at = at.parentElement) above.push(at)
      last = { element, above }
    }
    const rescue = () => {
      if (last === null || last.element.isConnected) return
      if (document.activeElement !== document.body && document.activeElement !== null) return
      const left = last.above.filter((element) => element.isConnected && element.closest('main'))
      last = null
      homeOf(left)?.focus({ preventScroll: false })
    }
    const observer = new MutationObserver(() => {
      // What takes the control away may put another in its place and focus it in the same breath.
      if (last !== null && !last.element.isConnected) requestAnimationFrame(rescue)
    })
    document.addEventListener('focusin', remember)
    observer.observe(document.body, { childList: true, subtree: true })
    return () => {
      document.removeEventListener('focusin', remember)
      observer.disconnect()
    }
  }, [])
}

function homeOf(left: readonly Element[]): HTMLElement | null {
  for (const part of left) {
    const home = part.getAttribute('data-focus-home')
    const found = home === null ? null : part.querySelector<HTMLElement>(home)
    if (found) return found
  }
  return left[0]?.querySelector<HTMLElement>(FOCUSABLE) ?? null
}
