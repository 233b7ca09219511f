import { expect, it } from 'vitest'
import type { CycleBrief } from '../../api/contract.ts'
import { analyze } from '../../stats/analyze.ts'
import { proposedPhase } from './proposed-phase.ts'

const day = (i: number) => new Date(Date.UTC(2026, 0, 5 + 7 * i)).toISOString().slice(0, 10)
const before = [50, 47, 52, 49, 51, 46, 53, 48, 50, 52, 47, 51, 49, 50, 53, 48, 46, 51, 49, 52]
const after = [58, 57, 59, 56, 58, 60, 57, 59, 58]
const test = (number: number, ranFrom: string) =>
  ({ cycle: { id: `c${number}`, number, title: '', ranFrom } }) as unknown as CycleBrief
const chart = (values: readonly number[]) =>
  analyze(
    { at: values.map((_, i) => day(i)), values: [...values] },
    { kind: 'individuals', better: 'up' },
  )

it('proposes a phase where a shift that lasts follows a test', () => {
  const proposed = proposedPhase(chart([...before, ...after]), [test(1, day(8)), test(2, day(19))])
  expect(proposed).toMatchObject({ cycleId: 'c2' })
  expect(proposed!.startsAt >= day(19)).toBe(true)
  expect(proposed!.text).toContain('above the centre')
})

it('proposes nothing without a test that came before it, or without a signal that lasts', () => {
  expect(proposedPhase(chart([...before, ...after]), [])).toBeNull()
  expect(proposedPhase(chart([...before, ...after]), [test(3, day(28))])).toBeNull()
  expect(proposedPhase(chart(before), [test(1, day(8))])).toBeNull()
  expect(proposedPhase(chart([...before, ...after, 40]), [test(1, day(19))])).toBeNull()
})
