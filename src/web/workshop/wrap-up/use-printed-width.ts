import { type RefObject, useEffect, useState } from 'react'
import { flushSync } from 'react-dom'
import { useWidth } from '../../chart/use-width.ts'

/** Whether the page is being printed: set before the browser lays the pages out. */
function usePrinting(): boolean {
  const [printing, setPrinting] = useState(false)
  useEffect(() => {
    const begin = () => flushSync(() => setPrinting(true))
    const end = () => setPrinting(false)
    window.addEventListener('beforeprint', begin)
    window.addEventListener('afterprint', end)
    return () => {
      window.removeEventListener('beforeprint', begin)
      window.removeEventListener('afterprint', end)
    }
  }, [])
  return printing
}

/** Pixels that a full line has on A4 and on Letter with the margins of the print style, and half of one. */
const PAPER = { full: 680, half: 325 } as const

/**
 * Width of a picture's place: as measured on screen, and on paper that of the paper, so that its
 * text keeps its size there.
 */
export function usePrintedWidth<E extends HTMLElement>(
  initial: number,
  paper: keyof typeof PAPER,
): [RefObject<E | null>, number] {
  const [ref, width] = useWidth<E>(initial)
  return [ref, usePrinting() ? PAPER[paper] : width]
}
