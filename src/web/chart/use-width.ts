import { type RefObject, useLayoutEffect, useRef, useState } from 'react'

/**
 * Inner width of an element in whole pixels, followed as it changes.
 *
 * @param initial Width until the browser has measured it.
 */
export function useWidth<E extends HTMLElement>(initial: number): [RefObject<E | null>, number] {
  const ref = useRef<E>(null)
  const [width, setWidth] = useState(initial)
  useLayoutEffect(() => {
    const element = ref.current
    if (element === null) return
    const measure = () => {
      const now = Math.floor(element.clientWidth)
      if (now > 0) setWidth(now)
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  return [ref, width]
}
