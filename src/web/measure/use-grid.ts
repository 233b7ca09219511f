import { useCallback, useEffect, useMemo, useReducer, useRef } from 'react'
import type { Measure, Observation } from '../../domain/record.ts'
import { draftStore } from '../lib/drafts.ts'
import { newId } from '../lib/ids.ts'
import { useMe } from '../lib/session.ts'
import { draftOf, type GridDraft, mergeDraft } from './grid-merge.ts'
import { type GridRow, type RowReading, readRow } from './grid-row.ts'
import { type GridAction, type GridState, gridReducer, openGrid } from './grid-state.ts'
import { READER_ORDER, showDate } from './show-date.ts'

export interface Grid {
  readonly state: GridState
  readonly dispatch: (action: GridAction) => void
  readonly readingOf: (row: GridRow) => RowReading
  /** What is not on the server yet; `null` when everything is. */
  readonly draft: GridDraft | null
  /** Unsaved rows of an earlier visit were found on this device. */
  readonly restored: boolean
  /** Gives up everything unsaved. */
  readonly discard: () => void
}

const PAUSE = 300

const versionsOf = (observations: readonly Observation[]) =>
  observations.map((o) => `${o.id}:${o.version}`).join()

/** The rows of one measure while they are edited: unsaved ones are kept on this device. */
export function useGrid(measure: Measure, observations: readonly Observation[], key: string): Grid {
  const me = useMe()
  const store = useMemo(() => draftStore(me.id, localStorage), [me.id])
  const found = useRef(false)

  const [state, dispatch] = useReducer(
    (old: GridState, action: GridAction) => gridReducer(old, action, newId),
    null,
    () => {
      const kept = (store.read(key)?.fields['grid'] ?? null) as GridDraft | null
      found.current = kept !== null
      const { rows, removed } = mergeDraft(measure, observations, kept, newId, showDate)
      return { ...openGrid(rows, newId), removed }
    },
  )

  const draft = useMemo(
    () => draftOf(measure, state.rows, state.removed, showDate),
    [measure, state.rows, state.removed],
  )
  const latest = useRef(draft)
  latest.current = draft

  // A newer copy from the server comes in under what is typed; an equal one leaves the grid alone.
  const versions = versionsOf(observations)
  const loaded = useRef(versions)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `versions` stands for the observations.
  useEffect(() => {
    if (loaded.current === versions) return
    loaded.current = versions
    dispatch({
      type: 'load',
      ...mergeDraft(measure, observations, latest.current, newId, showDate),
    })
  }, [versions])

  useEffect(() => {
    const keep = () => {
      if (draft === null) store.remove(key)
      else store.write(key, { version: 0, fields: { grid: draft }, base: {} })
    }
    const timer = setTimeout(keep, PAUSE)
    window.addEventListener('pagehide', keep)
    return () => {
      clearTimeout(timer)
      window.removeEventListener('pagehide', keep)
      keep()
    }
  }, [draft, key, store])

  const { dataKind, valueFormat, unitLabel } = measure
  const readingOf = useMemo(() => {
    const kind = { dataKind, valueFormat, unitLabel }
    const cache = new WeakMap<GridRow, RowReading>()
    return (row: GridRow) => {
      const known = cache.get(row)
      if (known !== undefined) return known
      const reading = readRow(kind, row, READER_ORDER, showDate)
      cache.set(row, reading)
      return reading
    }
  }, [dataKind, valueFormat, unitLabel])

  const discard = useCallback(() => {
    found.current = false
    dispatch({ type: 'load', ...mergeDraft(measure, observations, null, newId, showDate) })
  }, [measure, observations])

  return { state, dispatch, readingOf, draft, restored: found.current && draft !== null, discard }
}
