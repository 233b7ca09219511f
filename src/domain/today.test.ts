import { describe, expect, it } from 'vitest'
import { cycle, decision } from '../../tests/support/records.ts'
import { waitingFor } from './today.ts'

const running = cycle({ lockedAt: '2026-03-02T09:00:00.000Z', ranFrom: '2026-03-02' })
const done = { ...running, ranTo: '2026-03-14', doneAt: '2026-03-16T09:00:00.000Z' }
const studied = { ...done, studiedAt: '2026-03-18T09:00:00.000Z' }

describe('waitingFor', () => {
  it.each([
    ['a plan', cycle(), '2026-03-01', 'lock', '2026-02-27T08:00:00.000Z'],
    ['a test past its last day', running, '2026-03-16', 'collect', '2026-03-15T00:00:00.000Z'],
    ['a test that has run', done, '2026-03-17', 'study', '2026-03-16T09:00:00.000Z'],
    ['a written Study', studied, '2026-03-19', 'decide', '2026-03-18T09:00:00.000Z'],
  ])('%s waits', (_case, c, today, kind, since) => {
    expect(waitingFor(c, null, today)).toMatchObject({ kind, since })
  })

  it.each([
    ['a test that still runs', running, null, '2026-03-15'],
    ['a test without a last day', { ...running, plannedTo: null }, null, '2027-01-01'],
    ['a closed test', studied, decision(), '2026-03-19'],
  ])('%s does not', (_case, c, d, today) => {
    expect(waitingFor(c, d, today)).toBeNull()
  })
})
