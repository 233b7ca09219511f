import { expect, it } from 'vitest'
import { columnsOf } from './grid-columns.ts'
import { EMPTY_CELLS, type GridRow } from './grid-row.ts'
import { previewPaste } from './paste-preview.ts'

const measure = { dataKind: 'classified', valueFormat: 'number', unitLabel: 'visits' } as const
const columns = columnsOf(measure)
const row = (cells: Partial<GridRow['cells']>): GridRow => ({
  id: 'r',
  cells: { ...EMPTY_CELLS, ...cells },
  leftOutReason: null,
  record: null,
})
const empty = [row({})]

it('leaves a line of names on top out and says so', () => {
  const text = 'Week\tSent\tOf\n2026-03-02\t31\t42\n2026-03-09\t30\t40'
  const preview = previewPaste(measure, columns, empty, { row: 0, column: 0 }, text)
  expect(preview.header).toEqual(['Week', 'Sent', 'Of'])
  expect(preview.keys).toEqual(['at', 'numerator', 'denominator'])
  expect(preview.readings.map((r) => r.save?.numerator)).toEqual([31, 30])
})

it('names each cell that does not read, row by row', () => {
  const text = '2026-03-02\t31\t42\n2026-03-09\tmany\t40'
  const { readings, header } = previewPaste(measure, columns, empty, { row: 0, column: 0 }, text)
  expect(header).toBeNull()
  expect(readings.map((r) => r.issues.map((i) => i.key))).toEqual([[], ['numerator']])
})

it('counts columns without a place and rows that would be written over', () => {
  const rows = [row({ at: '2026-03-02', numerator: '3', denominator: '4' }), row({})]
  const preview = previewPaste(
    measure,
    columns,
    rows,
    { row: 0, column: 2 },
    '9\tnote\tmore\n8\t\t',
  )
  expect(preview).toMatchObject({ keys: ['denominator', 'note'], spare: 1, over: 1 })
})

it('reads a pasted column together with what stands beside it', () => {
  const rows = [row({ at: '2026-03-02', numerator: '9' })]
  const preview = previewPaste(measure, columns, rows, { row: 0, column: 2 }, '4')
  expect(preview.readings[0]!.issues[0]!.message).toContain('more than all')
})
