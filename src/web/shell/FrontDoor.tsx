import { type ReactNode, useEffect } from 'react'
import { Mark } from './Mark.tsx'

export interface FrontDoorProps {
  readonly title: string
  readonly children: ReactNode
}

/** The pages outside the console: first visit, sign-in, and when something is wrong. */
export function FrontDoor({ title, children }: FrontDoorProps) {
  useEffect(() => {
    document.title = title === 'Pawl' ? title : `${title} – Pawl`
  }, [title])
  return (
    <main className="front-door">
      <p className="wordmark">
        <Mark size={40} />
        Pawl
      </p>
      <div className="stack loose fill">
        {title !== 'Pawl' && <h1>{title}</h1>}
        {children}
      </div>
    </main>
  )
}
