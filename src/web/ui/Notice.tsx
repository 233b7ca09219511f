import type { ReactNode } from 'react'
import type { AppError } from '../../errors.ts'

export interface NoticeProps {
  /** `plain`: a finding or a word on how things are. `care`: a caution. `problem`: it went wrong. */
  readonly kind?: 'plain' | 'care' | 'problem'
  /** Read out when it appears. */
  readonly live?: boolean
  readonly children: ReactNode
}

/** A sentence or two that want to be seen, set off by a rule in the margin. */
export function Notice({ kind = 'plain', live = false, children }: NoticeProps) {
  const role = live ? (kind === 'problem' ? 'alert' : 'status') : undefined
  return (
    <div className={kind === 'plain' ? 'notice' : `notice ${kind}`} role={role}>
      {children}
    </div>
  )
}

/** An error as the person sees it: what is wrong, and what to do next. */
export function ErrorNotice({ error, children }: { error: AppError; children?: ReactNode }) {
  return (
    <Notice kind="problem" live>
      <p>
        <strong>{error.message}</strong>
        {error.hint !== '' && ` ${error.hint}`}
      </p>
      {children}
    </Notice>
  )
}
