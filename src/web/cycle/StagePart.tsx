import type { ReactNode } from 'react'
import type { StageName } from './StageBar.tsx'

export interface StagePartProps {
  readonly name: StageName
  readonly title: string
  /** Small print under the heading. */
  readonly told: string
  readonly children: ReactNode
}

/** One stage of the test: its heading can take the focus when the test moves on to it. */
export function StagePart({ name, title, told, children }: StagePartProps) {
  return (
    <section className="section stage" id={name} aria-labelledby={`${name}-heading`}>
      <div className="section-aside">
        <h2 id={`${name}-heading`} tabIndex={-1}>
          {title}
        </h2>
        {told !== '' && <p>{told}</p>}
      </div>
      <div className="section-body">{children}</div>
    </section>
  )
}
