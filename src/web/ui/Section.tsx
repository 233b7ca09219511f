import { type ReactNode, useId } from 'react'

export interface SectionProps {
  readonly title: ReactNode
  /** Small print under the heading, in the margin. */
  readonly aside?: ReactNode
  /** The heading above instead of in the margin, for charts and tables. */
  readonly wide?: boolean
  /** Where links within the page land. */
  readonly id?: string
  readonly children: ReactNode
}

/** A part of a page: a rule, its heading in the margin, its text beside it. */
export function Section({ title, aside, wide = false, id, children }: SectionProps) {
  const own = useId()
  const headingId = `${id ?? own}-heading`
  return (
    <section className={wide ? 'section wide' : 'section'} id={id} aria-labelledby={headingId}>
      <div className="section-aside">
        <h2 id={headingId}>{title}</h2>
        {aside}
      </div>
      <div className="section-body">{children}</div>
    </section>
  )
}
