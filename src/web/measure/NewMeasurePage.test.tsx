import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { Router } from 'wouter'
import type { Role } from '../../domain/record.ts'
import { receiveSession } from '../lib/session.ts'
import { NewMeasurePage } from './NewMeasurePage.tsx'

it('shows viewers no form that would be refused', () => {
  const role: Role = 'viewer'
  receiveSession({
    me: { id: 'v', name: 'V. Lund', email: 'v@example.org', role },
    needsOwner: false,
    csrf: 'token',
    example: 'absent',
    version: '0',
  })
  const html = renderToStaticMarkup(
    <Router ssrPath="/projects/p/new-measure">
      <NewMeasurePage projectId="p" />
    </Router>,
  )
  expect(html).toContain('Viewers can look at measures but not add them.')
  expect(html).toContain('href="/projects/p"')
  expect(html).not.toMatch(/<(?:input|textarea|select|button)/)
})
