import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { findIdentifiers } from './identifiers.ts'

const kinds = (text: string) => findIdentifiers(text, 2026).map((f) => f.kind)

describe('findIdentifiers', () => {
  // Invented numbers in common shapes; common practice, no source lists them all.
  it.each([
    ['MRN1234567 was late', 'number'],
    ['patient 94347659', 'number'],
    ['number 943 476 5919', 'number'],
    ['number 943-476-5919', 'number'],
    ['123-45-6789', 'number'],
    ['QQ 12 34 56 C', 'number'],
    ['121212-1212', 'number'],
    ['DOB 3/4/62', 'date-of-birth'],
    ['born on 3 April 1962', 'date-of-birth'],
    ['date of birth: 1962-04-03', 'date-of-birth'],
    ['Mrs A, 03.04.1962', 'date-of-birth'],
    ['1950-12-01', 'date-of-birth'],
    ['write to a.person@example.org', 'email'],
    ['call 020 7946 0958', 'telephone'],
    ['call +44 20 7946 0958', 'telephone'],
    ['(0161) 496 0000', 'telephone'],
  ])('asks about %j as a %s', (text, kind) => {
    expect(kinds(text)).toEqual([kind])
  })

  it.each([
    'The test ran from 2026-03-02 to 15/03/2026 on Ward 4.',
    '31 of 42 summaries, 74 %, in 1:02 or 62.4 s',
    'Rate 3.1415926 per 1,000 bed-days',
    '0.1234567',
    'Round 3, 12 items, 4 tables, 45 minutes',
    'Bleep 2345 before 17:30',
    'Bays 1-4 and 5-8, 10 000 leaflets',
    'Between 2019 and 2024',
    '',
  ])('leaves %j alone', (text) => {
    expect(kinds(text)).toEqual([])
  })

  it('says what it found and where, in order', () => {
    const text = 'a@example.org then MRN7654321'
    for (const f of findIdentifiers(text, 2026))
      expect(text.slice(f.index, f.index + f.found.length)).toBe(f.found)
    expect(findIdentifiers(text, 2026).map((f) => f.found)).toEqual(['a@example.org', 'MRN7654321'])
  })

  it('finds an identifier wherever it stands in other words', () => {
    const word = fc.constantFrom('the', 'ward', 'was', 'late', '3', '(', 'day,', 'so')
    const around = fc.array(word, { maxLength: 12 }).map((words) => words.join(' '))
    fc.assert(
      fc.property(around, around, (a, b) => {
        expect(kinds(`${a} 9434765919 ${b}`)).toContain('number')
      }),
    )
  })

  it('never fails and never overlaps, whatever the text', () => {
    const noisy = fc.string({
      unit: fc.constantFrom(...'0123456789 -/.+@()abOD:\n'),
      maxLength: 200,
    })
    fc.assert(
      fc.property(fc.oneof(fc.string(), noisy), (text) => {
        let end = 0
        for (const f of findIdentifiers(text, 2026)) {
          expect(f.index).toBeGreaterThanOrEqual(end)
          end = f.index + f.found.length
        }
      }),
    )
  })

  it('stays fast on a long text', () => {
    const text = '0 '.repeat(100_000) + '1-'.repeat(100_000)
    const began = performance.now()
    findIdentifiers(text, 2026)
    expect(performance.now() - began).toBeLessThan(2000)
  })
})
