import { describe, expect, it } from 'vitest'
import { cycle, decision, prediction } from '../../tests/support/records.ts'
import {
  carryPredictions,
  openCycle,
  planDifferences,
  predictionDifferences,
} from './carry-over.ts'

const made = {
  id: 'C2',
  projectId: 'P1',
  number: 2,
  title: 'Nights too',
  createdAt: '2026-03-17T10:00:00.000Z',
  origin: 'own' as const,
}
const before = cycle({ lockedAt: '2026-03-02T09:00:00.000Z', lockedById: 'A1', learned: 'x' })

describe('openCycle', () => {
  it('starts a ramp of its own when it builds on nothing', () => {
    expect(openCycle(made, null)).toMatchObject({
      rampId: 'C2',
      buildsOnId: null,
      question: '',
      lockedAt: null,
      version: 1,
    })
  })

  it('carries the plan over after adapt, adds the next change, and asks for approval afresh', () => {
    const next = openCycle(made, { cycle: before, decision: decision() })
    expect(next).toMatchObject({
      rampId: 'C1',
      buildsOnId: 'C1',
      question: before.question,
      change: `${before.change}\n\nThe same on nights.`,
      approval: null,
      approvalNote: before.approvalNote,
      plannedFrom: null,
      plannedTo: null,
      lockedAt: null,
      learned: '',
    })
  })

  it('marks exactly what differs', () => {
    const next = openCycle(made, { cycle: before, decision: decision() })
    expect(planDifferences(before, next)).toEqual([
      { field: 'change', was: before.change, is: next.change },
      { field: 'approval', was: 'on-record', is: null },
    ])
    expect(planDifferences(before, { ...before, title: 'Other', plannedTo: null })).toEqual([])
  })

  it('keeps the change as it was when the test before had another decision', () => {
    const next = openCycle(made, { cycle: before, decision: decision({ kind: 'adopt' }) })
    expect(planDifferences(before, next)).toEqual([])
  })
})

describe('carryPredictions', () => {
  it('keeps values as a starting point and asks for the reason afresh', () => {
    const [carried] = carryPredictions([prediction({ version: 7 })], 'C2', ['R2'])
    expect(carried).toEqual(prediction({ id: 'R2', cycleId: 'C2', why: '', version: 1 }))
  })

  it('is marked where value, range or confidence change, and where a measure comes or goes', () => {
    const was = [prediction(), prediction({ id: 'R3', measureId: 'M3' })]
    const is = [prediction({ low: 0.65 }), prediction({ id: 'R4', measureId: 'M4' })]
    expect(predictionDifferences(was, was)).toEqual([])
    expect(predictionDifferences(was, is).map((d) => [d.measureId, d.was?.low, d.is?.low])).toEqual(
      [
        ['M1', 0.6, 0.65],
        ['M3', 0.6, undefined],
        ['M4', undefined, 0.6],
      ],
    )
  })
})
