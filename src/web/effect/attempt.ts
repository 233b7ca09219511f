import { AppError } from '../../errors.ts'

/** What a piece of work gives, or the reason why it cannot be done. */
export function attempt<T>(work: () => T): [T, null] | [null, AppError] {
  try {
    return [work(), null]
  } catch (error) {
    if (error instanceof AppError) return [null, error]
    throw error
  }
}
