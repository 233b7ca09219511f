import type { ReactNode } from 'react'
import { Link, useLocation } from 'wouter'
import { useSession } from '../lib/session.ts'
import { AccountMenu } from './AccountMenu.tsx'
import { Broken } from './Broken.tsx'
import { CareDialog } from './CareDialog.tsx'
import { Mark } from './Mark.tsx'
import { UndoBar } from './UndoBar.tsx'

const PLACES = [
  { href: '/', label: 'Today', within: (path: string) => path === '/' },
  {
    href: '/projects',
    label: 'Projects',
    within: (path: string) => /^\/(projects|tests|measures|experiments)\b/.test(path),
  },
  {
    href: '/workshops',
    label: 'Workshops',
    within: (path: string) => path.startsWith('/workshops'),
  },
  {
    href: '/predictions',
    label: 'Predictions',
    within: (path: string) => path.startsWith('/predictions'),
  },
  { href: '/people', label: 'People', within: (path: string) => path.startsWith('/people') },
  {
    href: '/about-charts',
    label: 'About charts',
    within: (path: string) => path.startsWith('/about-charts'),
  },
] as const

/** What stands round every page: header, navigation, foot, and the places dialogs appear. */
export function Shell({ children }: { children: ReactNode }) {
  const [path] = useLocation()
  const { reply } = useSession()
  return (
    <div className="app">
      <a className="skip" href="#main">
        Skip to the page
      </a>
      <header className="masthead">
        <div className="masthead-inside">
          <Link href="/" className="wordmark">
            <Mark />
            Pawl
          </Link>
          <nav className="nav" aria-label="Main">
            <ul className="bare">
              {PLACES.map((place) => (
                <li key={place.href}>
                  <Link href={place.href} aria-current={place.within(path) ? 'page' : undefined}>
                    {place.label}
                  </Link>
                </li>
              ))}
            </ul>
          </nav>
          <AccountMenu />
        </div>
      </header>
      <main id="main" tabIndex={-1}>
        {/* Another address gets another try. */}
        <Broken key={path} inShell>
          {children}
        </Broken>
      </main>
      <footer className="foot">
        <span>For improving care, not for the care of one patient. Local policy comes first.</span>
        <span>{`Pawl ${reply?.version ?? ''}`}</span>
      </footer>
      <UndoBar />
      <CareDialog />
    </div>
  )
}
