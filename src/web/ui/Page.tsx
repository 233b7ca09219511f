import { type ReactNode, useEffect, useRef } from 'react'
import { Link, useLocation } from 'wouter'
import { arriveAt } from '../lib/heading-focus.ts'

interface Crumb {
  readonly label: string
  readonly href: string
}

export interface PageProps {
  /** Heading of the page, and title of the window. */
  readonly title: string
  /** In place of the plain title, where the heading is edited on the page. */
  readonly heading?: ReactNode
  readonly crumbs?: readonly Crumb[]
  /** One or two sentences under the heading. */
  readonly lead?: ReactNode
  /** What can be done with the page as a whole. */
  readonly actions?: ReactNode
  readonly children: ReactNode
}

/** One page: its heading takes focus when the reader has come from another page. */
export function Page({ title, heading, crumbs, lead, actions, children }: PageProps) {
  const [path] = useLocation()
  const h1 = useRef<HTMLHeadingElement>(null)

  useEffect(() => {
    document.title = title === 'Pawl' ? title : `${title} – Pawl`
  }, [title])
  useEffect(() => {
    arriveAt(path, h1.current)
  }, [path])

  return (
    <div className="page">
      <div className="page-head">
        {crumbs !== undefined && crumbs.length > 0 && (
          <nav className="crumbs" aria-label="Where this is">
            <ol className="bare">
              {crumbs.map((crumb) => (
                <li key={crumb.href + crumb.label}>
                  <Link href={crumb.href}>{crumb.label}</Link>
                </li>
              ))}
            </ol>
          </nav>
        )}
        <div className="row ends baseline">
          <h1 ref={h1} tabIndex={-1}>
            {heading ?? title}
          </h1>
          {actions !== undefined && <div className="row">{actions}</div>}
        </div>
        {lead !== undefined && <div className="page-lead">{lead}</div>}
      </div>
      {children}
    </div>
  )
}
