import { AppError } from '../../errors.ts'

/** Issues a refusal carries, by field name, so that each can stand beside its field. */
export function issuesByField(error: AppError | null): Readonly<Record<string, string>> {
  const issues = error?.details['issues']
  if (!Array.isArray(issues)) return {}
  const found: Record<string, string> = {}
  for (const issue of issues as readonly unknown[]) {
    if (typeof issue !== 'object' || issue === null) continue
    const { field, message } = issue as Record<string, unknown>
    if (typeof field === 'string' && typeof message === 'string') found[field] ??= message
  }
  return found
}

export const isStale = (error: unknown): error is AppError =>
  error instanceof AppError && error.code === 'record.stale'

/** The record as the server has it, where a save was refused because it is newer. */
export function currentOf<T>(error: AppError): T | null {
  const current = error.details['current']
  return typeof current === 'object' && current !== null ? (current as T) : null
}

/** Whether the server could not be asked at all. */
export const isUnreachable = ({ code }: AppError): boolean =>
  code === 'client.offline' || code === 'client.timeout'
