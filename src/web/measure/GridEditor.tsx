import { useEffect, useMemo, useState } from 'react'
import type { Id, Measure, Observation } from '../../domain/record.ts'
import type { AppError } from '../../errors.ts'
import { asAppError, call } from '../lib/api.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { DataGrid } from './DataGrid.tsx'
import { columnsOf } from './grid-columns.ts'
import type { GridPlace } from './grid-keys.ts'
import { type CellIssue, cellsOf, type GridRow, isBlank, isChanged, rowOf } from './grid-row.ts'
import { PasteDialog } from './PasteDialog.tsx'
import { ProblemList } from './ProblemList.tsx'
import { type PastePreview, previewPaste } from './paste-preview.ts'
import { RowPanel } from './RowPanel.tsx'
import { showDate } from './show-date.ts'
import { useGrid } from './use-grid.ts'

export interface GridEditorProps {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  /** Names what is unsaved on this device. */
  readonly draftKey: string
  /** The test of change that new rows are collected for. */
  readonly cycleId: Id | null
  /** Numbers of the tests that rows may belong to. */
  readonly testNumbers: ReadonlyMap<Id, number>
  /** The server has these rows now, and no longer those. */
  readonly onSaved: (fresh: readonly Observation[], gone: readonly Id[]) => void
  readonly reload: () => void
  readonly readOnly: boolean
  /** A few rows within another form: less height, fewer words. */
  readonly compact?: boolean
  /** Told how many changes are not on the server yet; give it a stable function. */
  readonly onUnsaved?: (count: number) => void
}

const plural = (count: number, one: string, many: string) =>
  count === 1 ? `1 ${one}` : `${count.toLocaleString()} ${many}`

/** Rows of a measure edited as a grid: what is unsaved in it, what stands in the way, undo and save. */
export function GridEditor(props: GridEditorProps) {
  const { measure, reload, readOnly, testNumbers, compact = false } = props
  const grid = useGrid(measure, props.observations, props.draftKey)
  const { state, dispatch, readingOf, draft } = grid
  const columns = useMemo(() => columnsOf(measure), [measure])
  // Begins in the empty row at the end, where the next value goes.
  const [place, setPlace] = useState<GridPlace>(() => ({ row: state.rows.length - 1, column: 0 }))
  const [anchor, setAnchor] = useState(place.row)
  const [paste, setPaste] = useState<{ preview: PastePreview; at: GridPlace } | null>(null)
  const [saving, setSaving] = useState(false)
  const [error, setError] = useState<AppError | null>(null)
  const [said, setSaid] = useState('')

  const at: GridPlace = {
    row: Math.min(place.row, state.rows.length - 1),
    column: Math.min(place.column, columns.length - 1),
  }
  const from = Math.min(Math.min(anchor, state.rows.length - 1), at.row)
  const to = Math.max(Math.min(anchor, state.rows.length - 1), at.row)
  const go = (next: GridPlace, nextAnchor = next.row) => {
    setPlace(next)
    setAnchor(nextAnchor)
  }

  const problems = useMemo(
    () =>
      state.rows.flatMap((row, index) => {
        if (isBlank(row) || !isChanged(measure, row, showDate)) return []
        if (row.theirs !== undefined) {
          return [{ index, key: columns[0]!.key, message: CLASH, choices: undefined }]
        }
        return readingOf(row).issues.map((issue) => ({ index, choices: undefined, ...issue }))
      }),
    [state.rows, measure, readingOf, columns],
  )

  const clashText = (row: GridRow): string | null => {
    if (row.theirs === undefined) return null
    const theirs = cellsOf(measure, row.theirs, showDate)
    const parts = columns
      .filter(({ key }) => theirs[key] !== row.cells[key])
      .map(
        ({ key, label }) =>
          `${label}: theirs ${theirs[key] || '(empty)'}, yours ${row.cells[key] || '(empty)'}`,
      )
    return `${CLASH} ${parts.join('; ')}.`
  }
  const issuesOf = (row: GridRow) =>
    isBlank(row) || !isChanged(measure, row, showDate) ? NONE : readingOf(row).issues
  const remarkOf = (row: GridRow): string => {
    if (isBlank(row)) return ''
    if (row.theirs !== undefined) return CLASH
    const issue = issuesOf(row)[0]
    if (issue !== undefined) return issue.message
    const parts: string[] = []
    if (isChanged(measure, row, showDate)) parts.push('Not saved yet')
    if (row.leftOutReason !== null) parts.push(`Left out: ${row.leftOutReason}`)
    const test = row.record?.cycleId == null ? undefined : testNumbers.get(row.record.cycleId)
    if (test !== undefined && !compact) parts.push(`Test ${test}`)
    return parts.join(' · ')
  }

  const save = async () => {
    if (draft === null || saving) return
    const first = problems[0]
    if (first !== undefined) {
      go({ row: first.index, column: columns.findIndex(({ key }) => key === first.key) })
      setSaid(
        `Nothing was saved: ${plural(problems.length, 'cell needs', 'cells need')} a look first.`,
      )
      return
    }
    setSaving(true)
    setError(null)
    setSaid('')
    const rows = draft.rows.map((row) => {
      const read = readingOf(row).save!
      return row.record === null ? { ...read, cycleId: props.cycleId } : read
    })
    try {
      const { observations } = await call('POST /api/measures/:id/observations', {
        params: { id: measure.id },
        body: { save: rows, remove: draft.removed.map(({ id, version }) => ({ id, version })) },
      })
      props.onSaved(
        observations,
        draft.removed.map(({ id }) => id),
      )
      const time = new Date().toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' })
      setSaid(`Saved at ${time}: ${savedText(rows.length, draft.removed.length)}.`)
    } catch (thrown) {
      setError(asAppError(thrown))
      // Somebody else was faster: their rows come in beside what is typed here.
      reload()
    } finally {
      setSaving(false)
    }
  }

  const onPaste = (text: string) => {
    const preview = previewPaste(measure, columns, state.rows, at, text)
    if (preview.block.length === 0) return
    if (preview.block.length === 1 && preview.keys.length <= 1 && preview.spare === 0) {
      dispatch({ type: 'paste', row: at.row, keys: preview.keys, block: preview.block })
    } else setPaste({ preview, at })
  }
  const put = () => {
    if (paste === null) return
    const { preview } = paste
    dispatch({ type: 'paste', row: paste.at.row, keys: preview.keys, block: preview.block })
    setPaste(null)
    setSaid(`${plural(preview.block.length, 'row', 'rows')} pasted, not saved yet.`)
  }
  const remove = () => {
    const count = state.rows.slice(from, to + 1).filter((row) => !isBlank(row)).length
    if (count === 0) return
    dispatch({ type: 'remove', from, to })
    go({ row: from, column: at.column })
    setSaid(
      `${plural(count, 'row', 'rows')} removed. Undo brings ${count === 1 ? 'it' : 'them'} back.`,
    )
  }

  const unsaved = draft === null ? 0 : draft.rows.length + draft.removed.length
  const { onUnsaved } = props
  useEffect(() => onUnsaved?.(unsaved), [onUnsaved, unsaved])
  const lastStep = state.past.at(-1)
  const asked = problems.filter(({ choices }) => choices !== undefined)
  const answerAll = (which: 0 | 1) =>
    dispatch({
      type: 'set-many',
      cells: asked.map(({ index, key, choices }) => ({
        row: index,
        key,
        text: choices![which].text,
      })),
    })

  return (
    <div
      className={compact ? 'data-section compact' : 'data-section'}
      data-focus-home="[data-active]"
    >
      {!readOnly && !compact && (
        <p className="small soft data-help">
          Type into a cell or paste a block from a spreadsheet. Arrow keys move, Enter edits, Escape
          gives up the edit; Shift with the arrows selects rows, Ctrl with Delete removes them, Ctrl
          with Z undoes.
        </p>
      )}
      {grid.restored && (
        <Notice>
          <p>
            {plural(unsaved, 'change', 'changes')} from an earlier visit, kept on this device, were
            not saved. They are in the grid below.
          </p>
        </Notice>
      )}
      {error !== null && <ErrorNotice error={error} />}
      <DataGrid
        label={`Data of ${measure.name}`}
        columns={columns}
        grid={state}
        issuesOf={issuesOf}
        remarkOf={remarkOf}
        dispatch={dispatch}
        place={at}
        anchor={Math.min(anchor, state.rows.length - 1)}
        onPlace={go}
        onPaste={onPaste}
        onSave={() => void save()}
        onRemove={remove}
        readOnly={readOnly}
      />
      {!readOnly && (
        <div className="data-foot">
          <RowPanel
            row={state.rows[at.row]!}
            index={at.row}
            from={from}
            to={to}
            columns={columns}
            issues={problems.filter(({ index }) => index === at.row)}
            clash={clashText(state.rows[at.row]!)}
            onAnswer={(key, text) => dispatch({ type: 'set', row: at.row, key, text })}
            onLeaveOut={(reason) => dispatch({ type: 'leave-out', row: at.row, reason })}
            onRemove={remove}
            onSettle={(keep) => {
              const { theirs } = state.rows[at.row]!
              if (theirs === undefined) return
              const row = rowOf(measure, theirs, showDate)
              dispatch({ type: 'settle', row: at.row, keep, theirs: row })
            }}
          />
          {problems.length > 0 && (
            <ProblemList
              problems={problems}
              columnLabel={(key) => columns.find((c) => c.key === key)?.label ?? ''}
              onGo={(index, key) =>
                go({ row: index, column: columns.findIndex((c) => c.key === key) })
              }
            />
          )}
          {asked.length > 1 && (
            <div className="row">
              <span>All {asked.length} such numbers are:</span>
              <Button onClick={() => answerAll(0)}>minutes and seconds</Button>
              <Button onClick={() => answerAll(1)}>seconds</Button>
            </div>
          )}
          <div className="row">
            {unsaved > 0 && (
              <Button
                look="main"
                busy={saving}
                busyText={`Saving ${plural(unsaved, 'change', 'changes')}…`}
                onClick={() => void save()}
              >
                Save {plural(unsaved, 'change', 'changes')}
              </Button>
            )}
            {lastStep !== undefined && (
              <Button onClick={() => dispatch({ type: 'undo' })}>Undo {lastStep.label}</Button>
            )}
            {state.future.length > 0 && (
              <Button look="quiet" onClick={() => dispatch({ type: 'redo' })}>
                Do it again
              </Button>
            )}
            {unsaved > 0 && (
              <span className="small soft">Kept on this device until they are saved.</span>
            )}
          </div>
          <p className="save-line" role="status">
            {said}
          </p>
        </div>
      )}
      {paste !== null && (
        <PasteDialog
          preview={paste.preview}
          columns={columns}
          firstRow={paste.at.row + 1}
          onPut={put}
          onClose={() => setPaste(null)}
        />
      )}
    </div>
  )
}

const NONE: readonly CellIssue[] = []
const CLASH = 'Somebody else changed this row meanwhile.'

function savedText(saved: number, removed: number): string {
  const parts: string[] = []
  if (saved > 0) parts.push(plural(saved, 'row', 'rows'))
  if (removed > 0) parts.push(`${plural(removed, 'row', 'rows')} removed`)
  return parts.join(', ')
}
