import { useEffect, useRef } from 'react'
import type { Issue } from '../../domain/issue.ts'
import type { Action } from '../lib/use-action.ts'
import { useStore } from '../lib/use-store.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { focusField } from './focus-field.ts'
import { useSaveBoard } from './save-board.ts'

export interface LockBlockProps {
  readonly issues: readonly Issue[]
  /** Whether the lock was tried: how many times, so that each try moves the focus. */
  readonly tries: number
  readonly action: Action
  readonly onLock: () => void
}

/** The end of the plan: what is still missing, each a way to its field, and the lock. */
export function LockBlock({ issues, tries, action, onLock }: LockBlockProps) {
  const list = useRef<HTMLParagraphElement>(null)
  const { unread } = useStore(useSaveBoard().state)
  const ready = issues.length === 0 && !unread
  // biome-ignore lint/correctness/useExhaustiveDependencies: each try that fails moves the focus.
  useEffect(() => {
    if (tries > 0 && !ready) list.current?.focus()
  }, [tries])

  return (
    <div className="lock" id="lock">
      <h3>Lock and start</h3>
      {ready ? (
        <p>Everything is there.</p>
      ) : (
        <div className="lock-list">
          <p ref={list} tabIndex={-1}>
            <strong>
              {issues.length + (unread ? 1 : 0) === 1
                ? 'One thing is still missing:'
                : `${issues.length + (unread ? 1 : 0)} things are still missing:`}
            </strong>
          </p>
          <ul>
            {issues.map((issue) => (
              <li key={issue.field + issue.code}>
                <a
                  href={`#${issue.field}`}
                  onClick={(event) => {
                    event.preventDefault()
                    focusField(issue.field)
                  }}
                >
                  {issue.message}
                </a>
              </li>
            ))}
            {unread && (
              <li>
                <button type="button" className="as-link" onClick={focusUnread}>
                  A number cannot be read yet, or waits for your answer.
                </button>
              </li>
            )}
          </ul>
        </div>
      )}
      {action.error !== null && !action.error.code.endsWith('.not_ready') && (
        <ErrorNotice error={action.error} />
      )}
      <Button look="main" busy={action.busy} busyText="Locking…" onClick={onLock}>
        Lock and start
      </Button>
      <p className="small soft">
        From then on plan and predictions stay as they are, with the time and your name. A
        correction stands beside them.
      </p>
    </div>
  )
}

function focusUnread(): void {
  document
    .querySelector<HTMLElement>(
      '.value-question .button, :is(.prediction, .factor, .design-numbers) [aria-invalid="true"]',
    )
    ?.focus()
}
