import { type RefObject, useLayoutEffect, useRef, useState } from 'react'

export interface Size {
  readonly width: number
  readonly height: number
  /** Size of its text, pixels. */
  readonly text: number
}

/** Room inside an element and its text size, followed as they change. */
export function useSize<E extends HTMLElement>(initial: Size): [RefObject<E | null>, Size] {
  const ref = useRef<E>(null)
  const [size, setSize] = useState(initial)
  useLayoutEffect(() => {
    const element = ref.current
    if (element === null) return
    const measure = () => {
      const { clientWidth: width, clientHeight: height } = element
      const text = Number.parseFloat(getComputedStyle(element).fontSize)
      if (width > 0 && height > 0) setSize({ width, height, text })
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  return [ref, size]
}
