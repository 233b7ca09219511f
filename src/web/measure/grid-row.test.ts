import { describe, expect, it } from 'vitest'
import type { Observation } from '../../domain/record.ts'
import { cellsOf, EMPTY_CELLS, type GridRow, isChanged, readRow, rowOf } from './grid-row.ts'

const shares = { dataKind: 'classified', valueFormat: 'number', unitLabel: 'discharges' } as const
const times = { dataKind: 'single', valueFormat: 'duration', unitLabel: '' } as const
const counts = { dataKind: 'counts', valueFormat: 'number', unitLabel: 'falls' } as const
const rates = { dataKind: 'rates', valueFormat: 'number', unitLabel: 'bed-days' } as const

const stored: Observation = {
  id: 'o1',
  measureId: 'm',
  cycleId: 'c1',
  trialId: null,
  at: '2026-03-02',
  value: 62.34567,
  numerator: null,
  denominator: null,
  note: 'night',
  leftOutReason: null,
  version: 3,
}
const showDate = (at: string) => (at === '2026-03-02' ? '2 Mar 2026' : at)
const typed = (cells: Partial<typeof EMPTY_CELLS>): GridRow => ({
  id: 'n1',
  cells: { ...EMPTY_CELLS, ...cells },
  leftOutReason: null,
  record: null,
})
const read = (measure: Parameters<typeof readRow>[0], row: GridRow) =>
  readRow(measure, row, 'day-first', showDate)

describe('readRow', () => {
  it('reads a new row of a share', () => {
    const { save, issues } = read(
      shares,
      typed({ at: '9/3/2026', numerator: '31', denominator: '42', note: ' two away ' }),
    )
    expect(issues).toEqual([])
    expect(save).toEqual({
      id: 'n1',
      cycleId: null,
      trialId: null,
      at: '2026-03-09',
      value: null,
      numerator: 31,
      denominator: 42,
      note: 'two away',
      leftOutReason: null,
    })
  })

  it('keeps the stored value of a cell nobody touched to its last decimal', () => {
    const row = rowOf(times, stored, showDate)
    expect(isChanged(times, row, showDate)).toBe(false)
    const edited = { ...row, cells: { ...row.cells, note: 'day' } }
    expect(isChanged(times, edited, showDate)).toBe(true)
    expect(read(times, edited).save).toMatchObject({ value: 62.34567, note: 'day', version: 3 })
  })

  it('asks about a stopwatch read without its colon and does not change it', () => {
    const { save, issues } = read(times, typed({ at: '2026-03-02', value: '102' }))
    expect(save).toBeNull()
    expect(issues[0]?.message).toBe('102: did you mean 1:02 or 102 seconds?')
    const answers = issues[0]!.choices!.map(
      ({ text }) => read(times, typed({ at: '2026-03-02', value: text })).save?.value,
    )
    expect(answers).toEqual([62, 102])
  })

  it.each([
    [
      'a numerator over its denominator',
      shares,
      { numerator: '5', denominator: '4' },
      'numerator',
      'more than all',
    ],
    [
      'a numerator without a denominator',
      shares,
      { numerator: '5' },
      'denominator',
      'Out of how many',
    ],
    ['a denominator without a numerator', shares, { denominator: '5' }, 'numerator', '0 for none'],
    ['a broken count', counts, { value: '2.5' }, 'value', 'whole number'],
    ['a negative count', counts, { value: '-2' }, 'value', 'below zero'],
    ['a word', counts, { value: 'two' }, 'value', '“two” is not a number'],
    ['sixty seconds after the colon', times, { value: '1:60' }, 'value', '60 or more'],
    ['half an event', rates, { numerator: '1.5', denominator: '300' }, 'numerator', 'whole number'],
  ] as const)('names %s', (_name, measure, cells, key, words) => {
    const { save, issues } = read(measure, typed({ at: '2026-03-02', ...cells }))
    expect(save).toBeNull()
    expect(issues).toHaveLength(1)
    expect(issues[0]!.key).toBe(key)
    expect(issues[0]!.message).toContain(words)
  })

  it('lets a date stand without a value: that is a gap', () => {
    expect(read(counts, typed({ at: '2026-03-02' })).save).toMatchObject({ value: null })
    const gap = read(shares, typed({ at: '2026-03-02', denominator: '0' }))
    expect(gap.save).toMatchObject({ numerator: null, denominator: 0 })
  })

  it('reads rates with a broken area', () => {
    const { save } = read(rates, typed({ at: '2026-03-02', numerator: '2', denominator: '312.5' }))
    expect(save).toMatchObject({ numerator: 2, denominator: 312.5 })
  })
})

it('writes the cells of a stored row so that they can be read again', () => {
  expect(cellsOf(times, { ...stored, value: 62 }, showDate)).toMatchObject({
    at: '2 Mar 2026',
    value: '1:02',
    note: 'night',
  })
})
