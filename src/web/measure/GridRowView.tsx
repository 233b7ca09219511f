import type { KeyboardEvent, PointerEvent } from 'react'
import type { GridColumn } from './grid-columns.ts'
import type { GridPlace } from './grid-keys.ts'
import { type CellIssue, type GridRow, isBlank } from './grid-row.ts'

export interface GridRowViewProps {
  readonly gridId: string
  readonly row: GridRow
  /** Zero-based, within all rows. */
  readonly index: number
  readonly height: number
  readonly columns: readonly GridColumn[]
  readonly issues: readonly CellIssue[]
  readonly remark: string
  readonly selected: boolean
  readonly activeColumn: number | null
  readonly editing: { readonly text: string; readonly selected: boolean } | null
  readonly onText: (text: string) => void
  readonly onEditKey: (event: KeyboardEvent) => void
  readonly onEditEnd: () => void
  readonly onPointer: (event: PointerEvent, place: GridPlace) => void
}

/** One row of the data grid. */
export function GridRowView(props: GridRowViewProps) {
  const { row, index, columns, issues, remark, activeColumn, editing } = props
  const remarkId = `${props.gridId}-${row.id}`
  const blank = isBlank(row)
  const classes: string[] = []
  if (props.selected) classes.push('selected')
  if (row.leftOutReason !== null) classes.push('left-out')
  return (
    <tr
      aria-rowindex={index + 2}
      aria-selected={props.selected || undefined}
      className={classes.join(' ')}
      style={{ height: props.height }}
    >
      <th scope="row" className="number">
        {index + 1}
      </th>
      {columns.map((column, i) => {
        const active = activeColumn === i
        const issue = issues.find(({ key }) => key === column.key)
        const wrong = issue !== undefined && issue.choices === undefined
        const classNames = [column.numeric ? 'numeric' : column.key]
        if (wrong) classNames.push('wrong')
        else if (issue !== undefined) classNames.push('asked')
        return (
          <td
            key={column.key}
            aria-invalid={wrong || undefined}
            aria-describedby={issue === undefined ? undefined : remarkId}
            className={classNames.join(' ')}
            tabIndex={active && editing === null ? 0 : -1}
            data-active={active || undefined}
            onPointerDown={(event) => {
              if (event.button !== 0) return
              if (!(active && editing !== null)) event.preventDefault()
              props.onPointer(event, { row: index, column: i })
            }}
          >
            {active && editing !== null ? (
              <input
                aria-label={`${column.label}, row ${index + 1}`}
                aria-invalid={wrong || undefined}
                value={editing.text}
                inputMode={column.numeric ? 'decimal' : 'text'}
                autoComplete="off"
                onFocus={(event) => {
                  if (editing.selected) event.target.select()
                }}
                onChange={(event) => props.onText(event.target.value)}
                onKeyDown={props.onEditKey}
                onBlur={props.onEditEnd}
              />
            ) : (
              row.cells[column.key] || (blank && <span className="cell-hint">{column.hint}</span>)
            )}
          </td>
        )
      })}
      <td
        id={remarkId}
        tabIndex={-1}
        className={issues.length > 0 ? 'remark problem' : 'remark'}
        title={remark}
      >
        {remark}
      </td>
    </tr>
  )
}
