import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { GridRowView } from './GridRowView.tsx'
import { columnsOf } from './grid-columns.ts'
import { EMPTY_CELLS, type GridRow } from './grid-row.ts'

const measure = { dataKind: 'classified', valueFormat: 'number', unitLabel: 'visits' } as const
const render = (row: Partial<GridRow>, more: Partial<Parameters<typeof GridRowView>[0]> = {}) =>
  renderToStaticMarkup(
    <table>
      <tbody>
        <GridRowView
          gridId="g"
          row={{ id: 'r', cells: EMPTY_CELLS, leftOutReason: null, record: null, ...row }}
          index={4}
          height={36}
          columns={columnsOf(measure)}
          issues={[]}
          remark=""
          selected={false}
          activeColumn={null}
          editing={null}
          onText={() => undefined}
          onEditKey={() => undefined}
          onEditEnd={() => undefined}
          onPointer={() => undefined}
          {...more}
        />
      </tbody>
    </table>,
  )

it('ties a problem to its cell and says it in the same row', () => {
  const html = render(
    { cells: { ...EMPTY_CELLS, at: '2 Mar 2026', numerator: '5', denominator: '4' } },
    {
      issues: [{ key: 'numerator', message: '5 of 4 is more than all of them.' }],
      remark: '5 of 4 is more than all of them.',
    },
  )
  expect(html).toMatch(/<td aria-invalid="true" aria-describedby="g-r"[^>]*>5<\/td>/)
  expect(html).toContain('id="g-r"')
  expect(html).toContain('5 of 4 is more than all of them.</td>')
  expect(html).toContain('aria-rowindex="6"')
})

it('has one tab stop, on the active cell, and edits it in a labelled field', () => {
  expect(render({}).match(/tabindex="0"/g)).toBeNull()
  expect(render({}, { activeColumn: 1 }).match(/tabindex="0"/g)).toHaveLength(1)
  const html = render({}, { activeColumn: 1, editing: { text: '7', selected: false } })
  expect(html).toContain('aria-label="Yes, row 5"')
  expect(html).toContain('value="7"')
})

it('shows what to type in an empty row', () => {
  expect(render({})).toContain('type a date')
  expect(render({ cells: { ...EMPTY_CELLS, at: '2 Mar 2026' } })).not.toContain('type a date')
})
