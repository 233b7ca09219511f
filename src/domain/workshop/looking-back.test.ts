import { expect, it } from 'vitest'
import { sampleRoom, withTable } from '../../../tests/support/sample-room.ts'
import { seatsWith } from '../../../tests/support/wrap-up-room.ts'
import { lookingBack } from './looking-back.ts'

it('shows the record and the names, but no notes, nudges or single answers', () => {
  const room = withTable(sampleRoom({ notes: 'Wren argues' }), 1, (table) => ({
    ...table,
    nudge: { text: 'Hurry', at: table.lastMoveAt! },
    seats: seatsWith([[3, 8]]),
  }))
  const seen = lookingBack(room)
  expect(JSON.stringify(seen)).not.toMatch(/Wren argues|Hurry/)
  expect(seen.tables[0]!.seats[0]).toMatchObject({
    confidenceBefore: null,
    confidenceAfter: null,
  })
  expect(seen.tables.map(({ rounds }) => rounds)).toEqual(room.tables.map(({ rounds }) => rounds))
  expect(seen.viewer).toEqual({ as: 'screen' })
})
