import { describe, expect, it } from 'vitest'
import { dateOrderOf, readDate } from './date-entry.ts'

const at = (text: string, order: 'day-first' | 'month-first' = 'day-first') => {
  const reading = readDate(text, order)
  return reading.ok ? reading.at : reading.message
}

describe('readDate', () => {
  it.each([
    ['2026-03-02', '2026-03-02'],
    ['2026/3/2', '2026-03-02'],
    ['2 Mar 2026', '2026-03-02'],
    ['2 March 2026', '2026-03-02'],
    ['02-Mar-26', '2026-03-02'],
    ['Mar 2, 2026', '2026-03-02'],
    ['02.03.2026', '2026-03-02'],
    ['2026-03', '2026-03-01'],
    ['Mar 2026', '2026-03-01'],
    ['1 Sept 1846', '1846-09-01'],
  ])('reads %s', (text, iso) => {
    expect(at(text)).toBe(iso)
  })

  it('reads a numeric date in the order of the reader, and dots always day first', () => {
    expect(at('03/04/2026', 'day-first')).toBe('2026-04-03')
    expect(at('03/04/2026', 'month-first')).toBe('2026-03-04')
    expect(at('03.04.2026', 'month-first')).toBe('2026-04-03')
  })

  it('keeps a time of day as a moment', () => {
    expect(at('2026-03-02T09:15:00.000Z')).toBe('2026-03-02T09:15:00.000Z')
    expect(at('2 Mar 2026 09:15')).toBe(new Date(2026, 2, 2, 9, 15).toISOString())
  })

  it('names what is wrong', () => {
    expect(at('')).toContain('needs a date')
    expect(at('soon')).toContain('“soon” is not a date')
    expect(at('2026-02-30')).toContain('not a day of the calendar')
    expect(at('13/13/2026')).toContain('not a day of the calendar')
    expect(at('2026-03-02 25:00')).toContain('not a time of day')
    expect(at('0026-03-02')).toContain('year 26')
  })

  it('knows which order a reader writes in', () => {
    expect(dateOrderOf('en-GB')).toBe('day-first')
    expect(dateOrderOf('en-US')).toBe('month-first')
    expect(dateOrderOf('de-DE')).toBe('day-first')
  })
})
