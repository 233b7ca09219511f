import { expect, it } from 'vitest'
import { AppError } from '../../errors.ts'
import { suspectsIn } from './care-suspects.ts'

const refused = (details: Record<string, unknown>) =>
  new AppError('care.looks_like_identifier', 'Looks like one.', 'Take it out.', details)

it('lists what the server found, with the field in words', () => {
  const places = [{ field: 'observations.0.note', found: '943 476 5919', kind: 'number' }]
  expect(suspectsIn(refused({ places }), {}, 2026)).toEqual([
    { field: 'note', found: '943 476 5919', kind: 'a record number' },
  ])
})

it('searches what was to be saved when the server names no place', () => {
  const body = { version: 1, wentWrong: 'Rang a.patient@example.org twice' }
  expect(suspectsIn(refused({}), body, 2026)).toEqual([
    { field: 'went wrong', found: 'a.patient@example.org', kind: 'an e-mail address' },
  ])
})
