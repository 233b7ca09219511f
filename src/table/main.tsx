import { render } from 'preact'
import { App } from './App.tsx'
import { meet } from './server.ts'

render(<App />, document.getElementById('root')!)

// Both can wait until there is something to look at.
addEventListener('pawl-ready', () => {
  // Who cannot be reached now is asked again.
  meet().catch(() => {})
  // Only where the address is secure; elsewhere a page that is open goes on, and a reload needs the
  // server.
  if ('serviceWorker' in navigator)
    navigator.serviceWorker.register('/t/sw.js', { scope: '/t/' }).catch(() => {})
})
