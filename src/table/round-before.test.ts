import { expect, it } from 'vitest'
import { sampleRound, sampleTable } from '../../tests/support/sample-room.ts'
import { carriedOver } from './round-before.ts'

const round = sampleRound(1, 1, { seconds: 60, right: 12, low: 50, high: 70 })

it('carries the plan over with the next change at its end', () => {
  expect(carriedOver(sampleTable(1, [round], 'Kestrel'), 2)).toMatchObject({
    strategy: 'Strategy 1 of this table.\n\nHand over in order.',
    nextChange: 'Hand over in order.',
    predictions: { time: { low: 50 }, why: '' },
  })
})

it('carries no change over where the strategy was adopted', () => {
  const decision = { kind: 'adopt' as const, reason: 'Quick', nextChange: '' }
  expect(carriedOver(sampleTable(1, [{ ...round, decision }], 'Kestrel'), 2).strategy).toBe(
    'Strategy 1 of this table.',
  )
})

it('has nothing to carry into the first round', () => {
  expect(carriedOver(sampleTable(1, [], 'Kestrel'), 1)).toMatchObject({ from: null, strategy: '' })
})
