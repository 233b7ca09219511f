import { render } from 'preact'
import { App } from './App.tsx'
import { meet } from './server.ts'

// Under way while the page is drawn; who cannot be reached now is asked again.
meet().catch(() => {})
render(<App />, document.getElementById('root')!)

// Only where the address is secure; elsewhere a page that is open goes on, and a reload needs the
// server. It can wait until there is something to look at.
addEventListener('pawl-ready', () => {
  if ('serviceWorker' in navigator)
    navigator.serviceWorker.register('/t/sw.js', { scope: '/t/' }).catch(() => {})
})
