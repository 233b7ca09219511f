import { expect, it } from 'vitest'
import { cycle, measure, observation, phase, prediction } from '../../tests/support/records.ts'
import { studyOf } from '../domain/finding.ts'
import { findingsReply } from './findings-reply.ts'

it('writes an end without a bound as null, since JSON has no infinity', () => {
  // No fall before the test: the ratio of the rates has no upper bound.
  const falls = measure({ dataKind: 'rates', per: 1000, better: 'down' })
  const row = (at: string, numerator: number) =>
    observation({ id: at, at, numerator, denominator: 700 })
  const observations = [
    ...Array.from({ length: 12 }, (_, i) => row(`2026-01-${10 + i}`, 0)),
    ...Array.from({ length: 4 }, (_, i) => row(`2026-03-0${3 + i}`, 3)),
  ]
  const ran = cycle({ lockedAt: '2026-03-01T08:00:00.000Z', ranFrom: '2026-03-02', ranTo: null })
  const study = studyOf(
    { cycle: ran, predictions: [prediction({ low: 1, expected: 2, high: 4 })] },
    [{ measure: falls, observations, phases: [phase({ frozenThrough: '2026-01-31' })] }],
    [],
  )
  expect(study.findings[0]!.change!.interval!.upper).toBe(Number.POSITIVE_INFINITY)
  const reply = findingsReply('C1', study)
  expect(reply.findings[0]!.change!.interval!.upper).toBeNull()
  expect(JSON.parse(JSON.stringify(reply))).toEqual(reply)
})
