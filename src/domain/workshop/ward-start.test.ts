import { describe, expect, it } from 'vitest'
import { sampleRoom, withTable } from '../../../tests/support/sample-room.ts'
import { makeId } from '../id.ts'
import { findIdentifiers } from '../identifiers.ts'
import { wardOrigin, wardPlan, wardStart } from './ward-start.ts'

describe('what a ward begins with', () => {
  it('is the last change the table decided to make, and the names it gave', () => {
    const room = withTable(sampleRoom(), 1, (table) => ({
      ...table,
      seats: ['Ada ', '', 'Recorder', 'Ada'].map((name) => ({ ...table.seats[0]!, name })),
      rounds: table.rounds.map((round, i) => ({
        ...round,
        decision: [
          { kind: 'adapt' as const, reason: '', nextChange: 'Earlier change' },
          { kind: 'adapt' as const, reason: '', nextChange: ' Later change ' },
          { kind: 'adopt' as const, reason: '', nextChange: '' },
        ][i]!,
      })),
    }))
    expect(wardStart(room.tables[0]!)).toEqual({ change: 'Later change', who: 'Ada, Recorder' })
  })

  it('is blank where the table adapted nothing, and for a fresh question', () => {
    const [table] = sampleRoom({}, { as: 'lead' }, 0).tables
    expect(wardStart(table!)).toEqual({ change: '', who: 'Timer' })
    expect(wardStart(null)).toEqual({ change: '', who: '' })
  })

  it('leads back to the table, and asks afresh what local policy says', () => {
    const room = { id: 'R', name: 'Monday class' }
    expect(wardOrigin(room, { id: 'T', name: 'Wren' })).toContain('/workshops/R/tables/T')
    expect(wardOrigin(room, null)).toContain('/workshops/R/wrap-up')
    const given = { name: ' Trays ', question: 'Q?', change: 'On bay 2.', who: 'Ada' }
    const plan = wardPlan(given, 'From there.')
    expect(plan).toEqual({
      title: 'Trays',
      question: 'Q?',
      change: 'On bay 2.\n\nFrom there.',
      who: 'Ada',
    })
  })

  it('never looks like an identifier itself, or the plan could not be edited', () => {
    for (let n = 0; n < 300; n++) {
      const id = makeId(
        1_770_000_000_000 + n * 86_400_000,
        Uint8Array.from({ length: 10 }, (_, i) => (n * 37 + i * 101) % 256),
      )
      const text = wardOrigin({ id, name: 'Class' }, { id, name: 'Wren' })
      expect(findIdentifiers(text, 2026)).toEqual([])
    }
  })
})
