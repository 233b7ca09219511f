import type { Id, Observation } from '../../domain/record.ts'
import { compareMoments } from '../../domain/series.ts'
import type { CellKey } from './grid-columns.ts'
import { cellsOf, type GridRow, isChanged, type RowKind, rowOf, type ShowDate } from './grid-row.ts'

/** What the grid holds that the server does not: kept on the device until it is saved. */
export interface GridDraft {
  readonly rows: readonly GridRow[]
  readonly removed: readonly Observation[]
}

/** The changed rows and the removed ones; `null` when everything is saved. */
export function draftOf(
  measure: RowKind,
  rows: readonly GridRow[],
  removed: readonly Observation[],
  showDate: ShowDate,
): GridDraft | null {
  const changed = rows.filter((row) => isChanged(measure, row, showDate))
  return changed.length === 0 && removed.length === 0 ? null : { rows: changed, removed }
}

/** Stored rows in order of time. */
export function storedRows(
  measure: RowKind,
  observations: readonly Observation[],
  showDate: ShowDate,
): GridRow[] {
  return [...observations]
    .sort((a, b) => compareMoments(a.at, b.at) || (a.id < b.id ? -1 : 1))
    .map((record) => rowOf(measure, record, showDate))
}

export interface Merged {
  readonly rows: readonly GridRow[]
  readonly removed: readonly Observation[]
}

/**
 * Lay unsaved changes over rows as the server now has them. A changed row that somebody else saved
 * meanwhile keeps what was typed and carries their version; one that somebody else removed becomes
 * a new row, so that nothing typed is lost.
 */
export function mergeDraft(
  measure: RowKind,
  observations: readonly Observation[],
  draft: GridDraft | null,
  newId: () => Id,
  showDate: ShowDate,
): Merged {
  const rows = storedRows(measure, observations, showDate)
  if (draft === null) return { rows, removed: [] }

  const stored = new Map(observations.map((o) => [o.id, o]))
  const removed = draft.removed.flatMap((old) => {
    const current = stored.get(old.id)
    // Somebody changed it since: it is shown again rather than removed unseen.
    return current !== undefined && current.version === old.version ? [current] : []
  })
  const gone = new Set(removed.map((o) => o.id))
  const typed = new Map(draft.rows.map((row) => [row.id, row]))

  const merged = rows
    .filter((row) => !gone.has(row.id))
    .map((row) => {
      const mine = typed.get(row.id)
      typed.delete(row.id)
      return mine === undefined ? row : rebased(measure, mine, row.record!, showDate)
    })
  for (const row of typed.values()) {
    merged.push(row.record === null ? row : { ...row, id: newId(), record: null })
  }
  return { rows: merged, removed }
}

function rebased(
  measure: RowKind,
  mine: GridRow,
  current: Observation,
  showDate: ShowDate,
): GridRow {
  const base = mine.record
  // A new row that the server has already: the answer to its save was lost on the way.
  if (base === null) return rowOf(measure, current, showDate)
  if (base.version === current.version) return { ...mine, record: current }

  const was = cellsOf(measure, base, showDate)
  const now = cellsOf(measure, current, showDate)
  const cells = { ...now }
  let clash = false
  for (const key of Object.keys(now) as CellKey[]) {
    if (mine.cells[key] === was[key]) continue
    cells[key] = mine.cells[key]
    if (now[key] !== was[key] && now[key] !== mine.cells[key]) clash = true
  }
  const leftOutReason =
    mine.leftOutReason === base.leftOutReason ? current.leftOutReason : mine.leftOutReason
  const row: GridRow = { id: mine.id, cells, leftOutReason, record: current }
  return clash ? { ...row, theirs: current } : row
}
