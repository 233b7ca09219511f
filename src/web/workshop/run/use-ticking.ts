import { useEffect, useReducer } from 'react'

/**
 * Draws the component anew every so often.
 *
 * @param ms Milliseconds between; `null`: not at all.
 */
export function useTicking(ms: number | null): void {
  const [, tick] = useReducer((n: number) => n + 1, 0)
  useEffect(() => {
    if (ms === null) return
    const timer = setInterval(tick, ms)
    return () => clearInterval(timer)
  }, [ms])
}
