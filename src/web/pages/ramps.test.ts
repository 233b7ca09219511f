import { expect, it } from 'vitest'
import type { CycleBrief } from '../../api/contract.ts'
import { rampMeasure, rampsOf } from './ramps.ts'

const test = (number: number, rampId: string, measureIds: string[] = []) =>
  ({
    cycle: { id: `c${number}`, number, rampId },
    predictions: measureIds.map((measureId) => ({ measureId })),
    decision: null,
  }) as unknown as CycleBrief

it('puts the chain that is being worked on first, each in order of number', () => {
  const ramps = rampsOf([test(3, 'a'), test(1, 'a'), test(2, 'b'), test(4, 'b')])
  expect(ramps.map((ramp) => [ramp.id, ramp.tests.map((t) => t.cycle.number)])).toEqual([
    ['b', [2, 4]],
    ['a', [1, 3]],
  ])
})

it('draws a chain on the measure most of its tests predict', () => {
  expect(rampMeasure([test(1, 'a', ['x', 'y']), test(2, 'a', ['y'])])).toBe('y')
  expect(rampMeasure([test(1, 'a', ['x', 'y'])])).toBe('x')
  expect(rampMeasure([test(1, 'a')])).toBeNull()
})
