import type { Id, Observation } from '../../domain/record.ts'
import type { CellKey } from './grid-columns.ts'
import { EMPTY_CELLS, type GridRow, isBlank } from './grid-row.ts'

/** The rows of the data grid as they stand, and the way back. */
export interface GridState {
  readonly rows: readonly GridRow[]
  /** Stored rows that will be removed with the next save. */
  readonly removed: readonly Observation[]
  readonly past: readonly GridStep[]
  readonly future: readonly GridStep[]
}

interface GridStep {
  /** What it did, for the undo button: "typing", "pasting 12 rows". */
  readonly label: string
  readonly rows: readonly GridRow[]
  readonly removed: readonly Observation[]
}

export type GridAction =
  | { readonly type: 'set'; readonly row: number; readonly key: CellKey; readonly text: string }
  /** Answers one question for many cells. */
  | {
      readonly type: 'set-many'
      readonly cells: readonly {
        readonly row: number
        readonly key: CellKey
        readonly text: string
      }[]
    }
  | {
      readonly type: 'paste'
      readonly row: number
      readonly keys: readonly CellKey[]
      readonly block: readonly (readonly string[])[]
    }
  | { readonly type: 'remove'; readonly from: number; readonly to: number }
  | { readonly type: 'leave-out'; readonly row: number; readonly reason: string | null }
  /** Ends a clash with somebody else's save of the same row. */
  | {
      readonly type: 'settle'
      readonly row: number
      readonly keep: 'mine' | 'theirs'
      readonly theirs: GridRow
    }
  | { readonly type: 'undo' }
  | { readonly type: 'redo' }
  /** Rows as the server has them now, with what is unsaved laid over. Starts the undo list anew. */
  | {
      readonly type: 'load'
      readonly rows: readonly GridRow[]
      readonly removed: readonly Observation[]
    }

const KEPT_STEPS = 100

export function openGrid(rows: readonly GridRow[], newId: () => Id): GridState {
  return {
    rows: withBlankEnd(rows, newId),
    removed: [],
    past: [],
    future: [],
  }
}

/** One step of editing. Never changes its input; every step but loading can be undone. */
export function gridReducer(state: GridState, action: GridAction, newId: () => Id): GridState {
  switch (action.type) {
    case 'set': {
      const old = state.rows[action.row]
      if (old === undefined || old.cells[action.key] === action.text) return state
      const row = { ...old, cells: { ...old.cells, [action.key]: action.text } }
      return step(state, 'typing', { rows: replaced(state.rows, action.row, row) }, newId)
    }
    case 'set-many': {
      const rows = [...state.rows]
      for (const { row, key, text } of action.cells) {
        const old = rows[row]
        if (old !== undefined) rows[row] = { ...old, cells: { ...old.cells, [key]: text } }
      }
      return step(state, `${action.cells.length} answers`, { rows }, newId)
    }
    case 'paste': {
      if (action.block.length === 0) return state
      const rows = [...state.rows]
      action.block.forEach((texts, i) => {
        const index = action.row + i
        const old = rows[index] ?? blankRow(newId)
        const cells = { ...old.cells }
        action.keys.forEach((key, j) => {
          if (j < texts.length) cells[key] = texts[j]!
        })
        rows[index] = { ...old, cells }
      })
      const count = action.block.length
      return step(state, count === 1 ? 'pasting' : `pasting ${count} rows`, { rows }, newId)
    }
    case 'remove': {
      const gone = state.rows.slice(action.from, action.to + 1).filter((row) => !isBlank(row))
      if (gone.length === 0) return state
      const rows = [...state.rows.slice(0, action.from), ...state.rows.slice(action.to + 1)]
      const records = gone.map((row) => row.record).filter((record) => record !== null)
      const label = gone.length === 1 ? 'removing a row' : `removing ${gone.length} rows`
      return step(state, label, { rows, removed: [...state.removed, ...records] }, newId)
    }
    case 'leave-out': {
      const old = state.rows[action.row]
      if (old === undefined) return state
      const row = { ...old, leftOutReason: action.reason }
      const label = action.reason === null ? 'counting a point again' : 'leaving a point out'
      return step(state, label, { rows: replaced(state.rows, action.row, row) }, newId)
    }
    case 'undo': {
      const last = state.past.at(-1)
      if (last === undefined) return state
      return {
        rows: last.rows,
        removed: last.removed,
        past: state.past.slice(0, -1),
        future: [...state.future, snapshot(state, last.label)],
      }
    }
    case 'redo': {
      const next = state.future.at(-1)
      if (next === undefined) return state
      return {
        rows: next.rows,
        removed: next.removed,
        past: [...state.past, snapshot(state, next.label)],
        future: state.future.slice(0, -1),
      }
    }
    case 'settle': {
      const old = state.rows[action.row]
      if (old?.theirs === undefined) return state
      const { theirs: _, ...mine } = old
      const row = action.keep === 'mine' ? mine : action.theirs
      return step(state, 'the choice', { rows: replaced(state.rows, action.row, row) }, newId)
    }
    case 'load':
      return { ...openGrid(action.rows, newId), removed: action.removed }
  }
}

function snapshot(state: GridState, label: string): GridStep {
  return { label, rows: state.rows, removed: state.removed }
}

function step(
  state: GridState,
  label: string,
  next: Partial<Pick<GridState, 'rows' | 'removed'>>,
  newId: () => Id,
): GridState {
  return {
    rows: withBlankEnd(next.rows ?? state.rows, newId),
    removed: next.removed ?? state.removed,
    past: [...state.past.slice(1 - KEPT_STEPS), snapshot(state, label)],
    future: [],
  }
}

function replaced(rows: readonly GridRow[], index: number, row: GridRow): GridRow[] {
  const next = [...rows]
  next[index] = row
  return next
}

/** There is always one empty row to type into. */
function withBlankEnd(rows: readonly GridRow[], newId: () => Id): readonly GridRow[] {
  const last = rows.at(-1)
  return last !== undefined && isBlank(last) ? rows : [...rows, blankRow(newId)]
}

function blankRow(newId: () => Id): GridRow {
  return { id: newId(), cells: EMPTY_CELLS, leftOutReason: null, record: null }
}
