import { useState } from 'react'
import type { AppError } from '../../errors.ts'
import { asAppError } from './api.ts'

export interface Action {
  /** Runs it unless it is running; resolves to whether it went well. */
  readonly run: (work: () => Promise<unknown>) => Promise<boolean>
  readonly busy: boolean
  readonly error: AppError | null
  readonly clearError: () => void
}

/** One thing a person sets off: whether it is under way, and what went wrong with it. */
export function useAction(): Action {
  const [busy, setBusy] = useState(false)
  const [error, setError] = useState<AppError | null>(null)
  return {
    busy,
    error,
    clearError: () => setError(null),
    run: async (work) => {
      if (busy) return false
      setBusy(true)
      setError(null)
      try {
        await work()
        return true
      } catch (thrown) {
        setError(asAppError(thrown))
        return false
      } finally {
        setBusy(false)
      }
    },
  }
}
