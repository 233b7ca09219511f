import { describe, expect, it } from 'vitest'
import type { Observation } from '../../domain/record.ts'
import { draftOf, mergeDraft, storedRows } from './grid-merge.ts'
import { EMPTY_CELLS, type GridRow } from './grid-row.ts'

const measure = { dataKind: 'counts', valueFormat: 'number', unitLabel: 'falls' } as const
const showDate = (at: string) => at
const stored = (id: string, at: string, value: number, version = 1, note = ''): Observation => ({
  id,
  measureId: 'm',
  cycleId: null,
  trialId: null,
  at,
  value,
  numerator: null,
  denominator: null,
  note,
  leftOutReason: null,
  version,
})
const newId = () => 'fresh'
const first = [stored('b', '2026-03-09', 4), stored('a', '2026-03-02', 3)]
const edit = (row: GridRow, cells: Partial<GridRow['cells']>): GridRow => ({
  ...row,
  cells: { ...row.cells, ...cells },
})
const typedRow: GridRow = {
  id: 'n',
  cells: { ...EMPTY_CELLS, at: '2026-03-16', value: '6' },
  leftOutReason: null,
  record: null,
}

describe('the unsaved rows of the grid', () => {
  const rows = storedRows(measure, first, showDate)

  it('come back over rows in order of time', () => {
    expect(rows.map((r) => r.id)).toEqual(['a', 'b'])
    const draft = draftOf(
      measure,
      [edit(rows[0]!, { value: '5' }), rows[1]!, typedRow],
      [],
      showDate,
    )
    expect(draft?.rows.map((r) => r.id)).toEqual(['a', 'n'])
    const merged = mergeDraft(measure, first, draft, newId, showDate)
    expect(merged.rows.map((r) => r.cells.value)).toEqual(['5', '4', '6'])
  })

  it('are nothing when everything is saved', () => {
    expect(draftOf(measure, rows, [], showDate)).toBeNull()
    expect(mergeDraft(measure, first, null, newId, showDate).rows).toEqual(rows)
  })

  it('join with what somebody else changed in another cell of the row', () => {
    const draft = draftOf(measure, [edit(rows[0]!, { value: '5' })], [], showDate)
    const theirs = [stored('a', '2026-03-02', 3, 2, 'counted again'), first[0]!]
    const merged = mergeDraft(measure, theirs, draft, newId, showDate).rows[0]!
    expect(merged.cells).toMatchObject({ value: '5', note: 'counted again' })
    expect(merged.record?.version).toBe(2)
    expect(merged.theirs).toBeUndefined()
  })

  it('stand beside the version of somebody who changed the same cell', () => {
    const draft = draftOf(measure, [edit(rows[0]!, { value: '5' })], [], showDate)
    const theirs = [stored('a', '2026-03-02', 8, 2), first[0]!]
    const merged = mergeDraft(measure, theirs, draft, newId, showDate).rows[0]!
    expect(merged.cells.value).toBe('5')
    expect(merged.theirs?.value).toBe(8)
  })

  it('become a new row where somebody else removed the old one', () => {
    const draft = draftOf(measure, [edit(rows[0]!, { value: '5' })], [], showDate)
    const merged = mergeDraft(measure, [first[0]!], draft, newId, showDate)
    expect(merged.rows.map((r) => [r.id, r.cells.value, r.record === null])).toEqual([
      ['b', '4', false],
      ['fresh', '5', true],
    ])
  })

  it('do not remove a row that somebody else changed meanwhile', () => {
    const draft = draftOf(measure, [], [first[1]!], showDate)
    expect(mergeDraft(measure, first, draft, newId, showDate)).toMatchObject({
      rows: [{ id: 'b' }],
      removed: [{ id: 'a' }],
    })
    const theirs = [stored('a', '2026-03-02', 8, 2), first[0]!]
    expect(mergeDraft(measure, theirs, draft, newId, showDate)).toMatchObject({
      rows: [{ id: 'a' }, { id: 'b' }],
      removed: [],
    })
  })

  it('are not stored twice when the answer to their save was lost', () => {
    const draft = draftOf(measure, [typedRow], [], showDate)
    const merged = mergeDraft(
      measure,
      [...first, stored('n', '2026-03-16', 6)],
      draft,
      newId,
      showDate,
    )
    expect(merged.rows).toHaveLength(3)
    expect(draftOf(measure, merged.rows, merged.removed, showDate)).toBeNull()
  })
})
