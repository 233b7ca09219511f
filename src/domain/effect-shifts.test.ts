import { expect, it } from 'vitest'
import { cycle, decision, measure, observation, phase } from '../../tests/support/records.ts'
import { firstShift, shiftsOf } from './effect-shifts.ts'

const locked = { lockedAt: '2026-01-01T08:00:00.000Z', lockedById: 'A1' }
const brief = (number: number, ranFrom: string | null, kind: 'adopt' | 'abandon' = 'adopt') => ({
  cycle: cycle({ ...locked, id: `C${number}`, number, ranFrom }),
  predictions: [],
  decision: decision({ kind }),
})
const data = {
  measure: measure({ dataKind: 'single' }),
  observations: ['01', '02', '03', '04', '05', '06'].map((m) =>
    observation({ id: m, at: `2026-${m}-01`, value: 1 }),
  ),
  phases: [phase(), phase({ id: 'F2', startsAt: '2026-03-15', reason: 'A named sender for good' })],
}

it('lists the starts of locked tests and later phases by date', () => {
  const draft = { ...brief(3, null), cycle: cycle({ id: 'C3', number: 3 }) }
  const options = shiftsOf(data, [brief(2, '2026-05-01'), brief(1, '2026-02-01'), draft])
  expect(options.map((o) => o.label)).toEqual([
    'Test 1: A named sender each shift',
    'New phase: A named sender for good',
    'Test 2: A named sender each shift',
  ])
  expect(options[1]).toMatchObject({ name: 'a new phase', at: '2026-03-15' })
})

it('begins with the date that leaves most points on its shorter side, not one given up', () => {
  const options = shiftsOf({ ...data, phases: [] }, [
    brief(1, '2026-04-01', 'abandon'),
    brief(2, '2026-03-01'),
    brief(3, '2026-06-01'),
  ])
  expect(firstShift(data, options)?.name).toBe('test 2')
  expect(firstShift(data, options.slice(1, 2))?.name).toBe('test 1')
  expect(firstShift(data, [])).toBeUndefined()
})
