import { expect, it } from 'vitest'
import { formatDate, formatSpan, formatWait, today, withReadableDates } from './dates.ts'

const NOW = Date.parse('2026-11-25T12:00:00Z')

it('shows a calendar date as that date in every time zone', () => {
  expect(formatDate('2026-03-02')).toMatch(/\b0?2\b/)
  expect(formatDate('2026-03-02')).toContain('2026')
})

it('leaves what is no date as it is', () => {
  expect(formatDate('row 7')).toBe('row 7')
})

it('says how long something has waited in whole days', () => {
  expect(formatWait('2026-11-25T08:00:00Z', NOW)).toBe('since today')
  expect(formatWait('2026-11-24T23:00:00Z', NOW)).toMatch(/^for 1\D/)
  expect(formatWait('2026-11-09', NOW)).toMatch(/^for 16\D/)
  expect(formatWait('1849-03-01', NOW)).toBe(`since ${formatDate('1849-03-01')}`)
})

it('gives a span of one day once', () => {
  expect(formatSpan('2026-03-02', '2026-03-02')).toBe(formatDate('2026-03-02'))
  expect(formatSpan('2026-03-02', '2026-03-09')).toBe(
    `${formatDate('2026-03-02')} to ${formatDate('2026-03-09')}`,
  )
  expect(formatSpan(null, null)).toBeNull()
})

it('reads the date where the reader is', () => {
  expect(today(new Date(2026, 0, 5, 23, 59))).toBe('2026-01-05')
})

it('puts the dates inside a sentence in the reader’s format', () => {
  expect(withReadableDates('It was to run until 2026-03-02. Go on.')).toBe(
    `It was to run until ${formatDate('2026-03-02')}. Go on.`,
  )
})
