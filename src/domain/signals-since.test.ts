import { expect, it } from 'vitest'
import type { Cycle, Measure, Observation } from './record.ts'
import { signalsSince } from './signals-since.ts'

const steady = [10, 14, 8, 13, 9, 15, 11, 7, 12, 14, 8, 13, 10, 12]
const day = (i: number) => new Date(Date.UTC(2026, 0, 1 + i)).toISOString().slice(0, 10)
const data = (
  id: string,
  role: Measure['role'],
  values: readonly number[],
): Parameters<typeof signalsSince>[1][number] => ({
  measure: {
    id,
    projectId: 'p',
    name: id,
    role,
    dataKind: 'single',
    valueFormat: 'number',
    unitLabel: '',
    per: 1,
    better: 'down',
    operationalDefinition: '',
    collectionPlan: '',
    goal: null,
    chartKind: 'auto',
    ruleSet: 'auto',
    unitId: null,
    sameAsId: null,
    version: 1,
  },
  observations: values.map(
    (value, i) =>
      ({
        id: `${id}${i}`,
        measureId: id,
        cycleId: null,
        trialId: null,
        at: day(i),
        value,
        numerator: null,
        denominator: null,
        note: '',
        leftOutReason: null,
        version: 1,
      }) satisfies Observation,
  ),
  phases: [],
})
const cycle = (ranFrom: string | null) => ({ ranFrom }) as Cycle

it('puts a balancing measure that moves the worse way first', () => {
  const measures = [
    data('time', 'process', [...steady, -30]),
    data('falls', 'balancing', [...steady, 40]),
  ]
  const found = signalsSince(cycle(day(13)), measures)
  expect(found.map(({ measure, signal }) => [measure.id, signal.better])).toEqual([
    ['falls', false],
    ['time', true],
  ])
})

it('leaves out signals that ended before the test, and says nothing before it began', () => {
  const measures = [data('time', 'process', [40, ...steady])]
  expect(signalsSince(cycle(day(10)), measures)).toEqual([])
  expect(signalsSince(cycle(null), measures)).toEqual([])
})
