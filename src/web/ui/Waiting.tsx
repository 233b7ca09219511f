import type { ReactNode } from 'react'
import type { Query } from '../lib/query.ts'
import { Button } from './Button.tsx'
import { ErrorNotice } from './Notice.tsx'
import { Page } from './Page.tsx'

/** Holds the place of something that is being read. */
export function Waiting({ what, lines = 3 }: { what: string; lines?: number }) {
  return (
    <div className="waiting" role="status">
      <span className="hidden-text">{`Reading ${what}…`}</span>
      {Array.from({ length: lines }, (_, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the lines are all alike.
        <span key={i} className="waiting-line" />
      ))}
    </div>
  )
}

export interface LoadedProps<T> {
  readonly query: Query<T>
  /** What is being read, such as `the project`. */
  readonly what: string
  readonly children: (data: T) => ReactNode
}

/** Shows what a query read; until then, that it is being read; else what went wrong. */
export function Loaded<T>({ query, what, children }: LoadedProps<T>) {
  const { data, error, reload } = query
  if (data !== undefined) {
    return (
      <>
        {error !== null && (
          <div className="page">
            <ErrorNotice error={error}>
              <Button onClick={reload}>Try again</Button>
            </ErrorNotice>
          </div>
        )}
        {children(data)}
      </>
    )
  }
  if (error === null) {
    return (
      <div className="page">
        <Waiting what={what} lines={5} />
      </div>
    )
  }
  return (
    <Page title="This page cannot be shown">
      <ErrorNotice error={error}>
        <Button onClick={reload}>Try again</Button>
      </ErrorNotice>
    </Page>
  )
}
