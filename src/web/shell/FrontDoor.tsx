import { type ReactNode, useEffect, useRef } from 'react'
import { arriveAt } from '../lib/heading-focus.ts'
import { Mark } from './Mark.tsx'

export interface FrontDoorProps {
  readonly title: string
  readonly children: ReactNode
}

/** The pages outside the console: first visit, sign-in, and when something is wrong. */
export function FrontDoor({ title, children }: FrontDoorProps) {
  const h1 = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    document.title = title === 'Pawl' ? title : `${title} – Pawl`
    if (title !== 'Pawl') arriveAt(`door:${title}`, h1.current)
  }, [title])
  return (
    <main className="front-door">
      <p className="wordmark">
        <Mark size={40} />
        Pawl
      </p>
      <div className="stack loose fill">
        {title !== 'Pawl' && (
          <h1 ref={h1} tabIndex={-1}>
            {title}
          </h1>
        )}
        {children}
      </div>
    </main>
  )
}
