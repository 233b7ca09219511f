import fc from 'fast-check'
import { expect, it } from 'vitest'
import { dateText, durationText, instantOf, numberText, rangeText, valueText } from './format.ts'

it('reads every date of the calendar as Date.parse does, and no other', () => {
  fc.assert(
    fc.property(fc.nat(9999), fc.nat(14), fc.nat(33), (year, month, day) => {
      const two = (n: number) => String(n).padStart(2, '0')
      const at = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`
      const time = Date.parse(at)
      const valid =
        !Number.isNaN(time) && new Date(time).toISOString().startsWith(at) && year >= 100
      expect(instantOf(at)).toBe(valid ? time : null)
    }),
    { numRuns: 500, seed: 4 },
  )
  for (const at of ['2026-1-02', '2026/01/02', 'yesterday!', '12', ''])
    expect(instantOf(at)).toBe(null)
})

it('reads date-times in their zone, in UTC where none is given', () => {
  expect(instantOf('2026-03-02T09:15:00+01:00')).toBe(Date.UTC(2026, 2, 2, 8, 15))
  expect(instantOf('2026-03-02 09:15')).toBe(Date.UTC(2026, 2, 2, 9, 15))
  expect(dateText('2026-03-02T09:15:00.000Z')).toBe('2 Mar 2026 09:15')
})

it('says the year once where both ends share it', () => {
  expect(rangeText('2026-02-02', '2026-05-31')).toBe('2 Feb to 31 May 2026')
  expect(rangeText('2025-12-29', '2026-01-05')).toBe('29 Dec 2025 to 5 Jan 2026')
  expect(rangeText('2026-02-02', '2026-02-02')).toBe('2 Feb 2026')
})

it('gives each chart the decimals that its own spread needs', () => {
  expect(valueText('percent', [0.2, 0.9]).value(0.7381)).toBe('74\u00a0%')
  expect(valueText('percent', [0.01, 0.04]).value(0.0213)).toBe('2.13\u00a0%')
  expect(valueText('number', [12, 15, 14]).value(12)).toBe('12')
  expect(valueText('number', [49.6, 53.6]).center(50.81)).toBe('50.81')
  expect(valueText((v) => `${v} falls`, []).center(3)).toBe('3 falls')
})

it('never rounds up to sixty seconds', () => {
  expect(durationText(59.97)).toBe('1:00')
  expect(durationText(3599.99)).toBe('1:00:00')
  expect(durationText(-62)).toBe('−1:02')
})

it('writes no negative zero', () => {
  expect(numberText(-0.001, 2)).toBe('0.00')
})
