import {
  type ClipboardEvent,
  type KeyboardEvent,
  type PointerEvent,
  useCallback,
  useEffect,
  useId,
  useLayoutEffect,
  useRef,
  useState,
} from 'react'
import { GridRowView } from './GridRowView.tsx'
import type { GridColumn } from './grid-columns.ts'
import { type GridPlace, gridMove } from './grid-keys.ts'
import type { CellIssue } from './grid-row.ts'
import type { GridAction, GridState } from './grid-state.ts'

export interface DataGridProps {
  readonly label: string
  readonly columns: readonly GridColumn[]
  readonly grid: GridState
  /** What is wrong in a row that is not stored yet; nothing for one that is. */
  readonly issuesOf: (row: GridState['rows'][number]) => readonly CellIssue[]
  /** What stands beside a row: a problem, that it is left out, that it is not saved. */
  readonly remarkOf: (row: GridState['rows'][number]) => string
  readonly dispatch: (action: GridAction) => void
  readonly place: GridPlace
  /** Other end of the selected rows. */
  readonly anchor: number
  readonly onPlace: (place: GridPlace, anchor: number) => void
  /** A block of more than one cell was pasted at the place. */
  readonly onPaste: (text: string) => void
  readonly onSave: () => void
  readonly onRemove: () => void
  readonly readOnly: boolean
}

/** Rows outside the window that are drawn ahead of scrolling. */
const AHEAD = 8

/**
 * The data of a measure as a grid of cells. Arrows move, Enter or typing edits, Escape gives up the
 * edit, Tab goes on to the next cell while editing and leaves the grid otherwise. Only the rows in
 * view are in the page, so that thousands stay quick.
 */
export function DataGrid(props: DataGridProps) {
  const { columns, grid, place, anchor, onPlace, dispatch, readOnly } = props
  const { rows } = grid
  const scroller = useRef<HTMLDivElement>(null)
  const [rowHeight, setRowHeight] = useState(36)
  const [view, setView] = useState({ top: 0, height: 480 })
  const [editing, setEditing] = useState<{ text: string; selected: boolean } | null>(null)
  // Focus follows the place only after the keyboard or a pointer moved it, never on loading.
  const wantsFocus = useRef(false)
  const id = useId()

  useEffect(() => {
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize)
    const coarse = window.matchMedia('(pointer: coarse)').matches
    setRowHeight(Math.round(rem * (coarse ? 2.75 : 2.25)))
    const element = scroller.current
    if (element === null) return
    const measure = () => setView((old) => ({ ...old, height: element.clientHeight }))
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [])

  const page = Math.max(1, Math.floor(view.height / rowHeight) - 2)

  // biome-ignore lint/correctness/useExhaustiveDependencies: runs when the place or the mode changes.
  useLayoutEffect(() => {
    const element = scroller.current
    if (!wantsFocus.current || element === null) return
    wantsFocus.current = false
    const top = place.row * rowHeight
    const visible = element.clientHeight - rowHeight
    if (top < element.scrollTop) element.scrollTop = top
    else if (top + rowHeight > element.scrollTop + visible) {
      element.scrollTop = top + rowHeight - visible
    }
    setView({ top: element.scrollTop, height: element.clientHeight })
    const cell = element.querySelector<HTMLElement>('[data-active]')
    const target = cell?.querySelector('input') ?? cell
    target?.focus({ preventScroll: true })
    // A column out of view to the side.
    cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  }, [place.row, place.column, editing === null])

  const moveTo = useCallback(
    (next: GridPlace, extend = false) => {
      wantsFocus.current = true
      onPlace(next, extend ? anchor : next.row)
    },
    [anchor, onPlace],
  )

  const column = columns[place.column]!
  const startEdit = (text: string | null) => {
    if (readOnly) return
    wantsFocus.current = true
    setEditing({
      text: text ?? rows[place.row]?.cells[column.key] ?? '',
      selected: text === null,
    })
  }
  const commit = () => {
    if (editing === null) return
    dispatch({ type: 'set', row: place.row, key: column.key, text: editing.text })
    setEditing(null)
  }
  const endEdit = (next: GridPlace | null, keep: boolean) => {
    wantsFocus.current = true
    if (keep) commit()
    else setEditing(null)
    if (next !== null) onPlace(next, next.row)
  }

  const onEditKey = (event: KeyboardEvent) => {
    const { key, shiftKey } = event
    const last = rows.length // an empty row follows as soon as this one holds something
    if (key === 'Escape') endEdit(null, false)
    else if (key === 'Enter' || key === 'ArrowDown' || key === 'ArrowUp') {
      const up = key === 'ArrowUp' || (key === 'Enter' && shiftKey)
      const row = Math.min(Math.max(place.row + (up ? -1 : 1), 0), last)
      endEdit({ row, column: place.column }, true)
    } else if (key === 'Tab') {
      const cell = place.row * columns.length + place.column + (shiftKey ? -1 : 1)
      if (cell < 0) return commit()
      const next = { row: Math.floor(cell / columns.length), column: cell % columns.length }
      const filled = editing?.text !== '' || next.row < rows.length
      if (!filled) return commit()
      wantsFocus.current = true
      commit()
      onPlace(next, next.row)
      setEditing({ text: rows[next.row]?.cells[columns[next.column]!.key] ?? '', selected: true })
    } else return
    event.preventDefault()
    event.stopPropagation()
  }

  const onKeyDown = (event: KeyboardEvent) => {
    if (editing !== null) return
    const move = gridMove(event, place, { rows: rows.length, columns: columns.length, page })
    if (move === null) return
    if (readOnly && move.kind !== 'go') return
    event.preventDefault()
    switch (move.kind) {
      case 'go':
        return moveTo(move, move.extend)
      case 'edit':
        return startEdit(move.text)
      case 'clear':
        return dispatch({ type: 'set', row: place.row, key: column.key, text: '' })
      case 'remove':
        wantsFocus.current = true
        return props.onRemove()
      case 'undo':
      case 'redo':
        wantsFocus.current = true
        return dispatch({ type: move.kind })
      case 'save':
        return props.onSave()
    }
  }

  const onPaste = (event: ClipboardEvent) => {
    if (readOnly) return
    const text = event.clipboardData.getData('text/plain')
    if (editing !== null && !/[\t\n\r]/.test(text.trim())) return
    event.preventDefault()
    setEditing(null)
    wantsFocus.current = true
    props.onPaste(text)
  }

  const onCopy = (event: ClipboardEvent) => {
    if (editing !== null) return
    const from = Math.min(anchor, place.row)
    const to = Math.max(anchor, place.row)
    const text =
      from === to
        ? (rows[place.row]?.cells[column.key] ?? '')
        : rows
            .slice(from, to + 1)
            .map((row) => columns.map(({ key }) => row.cells[key]).join('\t'))
            .join('\n')
    event.clipboardData.setData('text/plain', text)
    event.preventDefault()
  }

  const onPointer = (event: PointerEvent, next: GridPlace) => {
    const here = next.row === place.row && next.column === place.column
    if (editing !== null && here) return
    if (editing !== null) commit()
    if (here || event.pointerType === 'touch') {
      if (!here) onPlace(next, next.row)
      if (readOnly) return
      wantsFocus.current = true
      const key = columns[next.column]!.key
      setEditing({ text: rows[next.row]?.cells[key] ?? '', selected: true })
    } else moveTo(next, event.shiftKey)
  }

  const first = Math.max(0, Math.floor(view.top / rowHeight) - AHEAD)
  const end = Math.min(rows.length, Math.ceil((view.top + view.height) / rowHeight) + AHEAD)
  // The row with the focus stays in the page wherever the grid is scrolled to.
  const drawn = new Set(Array.from({ length: Math.max(0, end - first) }, (_, i) => first + i))
  if (place.row < rows.length) drawn.add(place.row)
  const indices = [...drawn].sort((a, b) => a - b)
  const low = Math.min(anchor, place.row)
  const high = Math.max(anchor, place.row)
  const gap = (count: number, key: string) =>
    count > 0 && (
      // biome-ignore lint/a11y/noAriaHiddenOnFocusable: holds the place of rows that are not drawn.
      <tr key={key} aria-hidden="true" className="data-gap">
        <td colSpan={columns.length + 2} style={{ height: count * rowHeight }} />
      </tr>
    )

  return (
    <div
      ref={scroller}
      className="data-scroll"
      onScroll={(event) => {
        const { scrollTop, clientHeight } = event.currentTarget
        setView({ top: scrollTop, height: clientHeight })
      }}
    >
      <table
        className="data-grid"
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: its cells are edited.
        role="grid"
        aria-label={props.label}
        aria-rowcount={rows.length + 1}
        aria-colcount={columns.length + 2}
        aria-readonly={readOnly || undefined}
        data-columns={columns.length}
        data-timed={rows.some(({ cells }) => cells.at.includes(':')) || undefined}
        onKeyDown={onKeyDown}
        onPaste={onPaste}
        onCopy={onCopy}
      >
        <thead>
          <tr aria-rowindex={1} style={{ height: rowHeight }}>
            <th scope="col" className="number">
              <span className="hidden-text">Row</span>
            </th>
            {columns.map((c) => (
              <th key={c.key} scope="col" className={c.numeric ? 'numeric' : c.key}>
                {c.label}
              </th>
            ))}
            <th scope="col" className="remark">
              Remarks
            </th>
          </tr>
        </thead>
        <tbody>
          {indices.flatMap((index, i) => {
            const row = rows[index]!
            const active = index === place.row ? place.column : null
            return [
              gap(index - (i === 0 ? 0 : indices[i - 1]! + 1), `gap-${index}`),
              <GridRowView
                key={row.id}
                gridId={id}
                row={row}
                index={index}
                height={rowHeight}
                columns={columns}
                issues={props.issuesOf(row)}
                remark={props.remarkOf(row)}
                selected={index >= low && index <= high && low !== high}
                activeColumn={active}
                editing={active === null ? null : editing}
                onText={(text) => setEditing({ text, selected: false })}
                onEditKey={onEditKey}
                onEditEnd={commit}
                onPointer={onPointer}
              />,
            ]
          })}
          {gap(rows.length - 1 - (indices.at(-1) ?? -1), 'gap-end')}
        </tbody>
      </table>
    </div>
  )
}
