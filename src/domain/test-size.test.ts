import { expect, it } from 'vitest'
import { cycle, measure, observation, prediction } from '../../tests/support/records.ts'
import type { Cycle } from './record.ts'
import { plannedSize, testSizes } from './test-size.ts'

it.each([
  ['One shift', { size: 1, what: 'shift' }],
  ['ten patients, then stop', { size: 10, what: 'patient' }],
  ['3-bed bay', { size: 3, what: 'bed' }],
  ['At most 12', { size: 12, what: '' }],
])('reads the number in "%s"', (text, size) => {
  expect(plannedSize(text)).toEqual(size)
})

it.each(['', 'All discharges', 'Someone on each shift'])('finds no number in "%s"', (text) => {
  expect(plannedSize(text)).toBeNull()
})

const run = (own: Partial<Cycle>) => {
  const c = cycle({ lockedAt: '2026-03-01T08:00:00.000Z', lockedById: 'A1', ...own })
  return { cycle: c, predictions: [prediction({ cycleId: c.id })] }
}
const chain = (first: string, second: string) => [
  run({ howMany: first, ranFrom: '2026-03-02', ranTo: '2026-03-02' }),
  run({ id: 'C2', number: 2, howMany: second, ranFrom: '2026-03-09', ranTo: '2026-03-10' }),
]
const minutes = measure({ dataKind: 'single' })
const value = (at: string) => observation({ id: at, at, value: 5 })

it('compares planned numbers only where they count the same thing', () => {
  expect(testSizes(chain('1 patient', '5 patients'), [])).toEqual({
    by: 'planned',
    what: 'patient',
    sizes: [1, 5],
  })
  expect(testSizes(chain('1 patient', '5 shifts'), [])).toBeNull()
})

it('falls back on the number of observations', () => {
  const observations = ['2026-03-02', '2026-03-09', '2026-03-10'].map(value)
  expect(testSizes(chain('', ''), [{ measure: minutes, observations }])).toEqual({
    by: 'observations',
    what: 'observations',
    sizes: [1, 2],
  })
})
