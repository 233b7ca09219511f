import { useEffect, useMemo, useRef, useState } from 'react'
import type { Id } from '../../../domain/record.ts'
import type { RoomState, RoundState, TableState } from '../../../domain/workshop/room-state.ts'
import type { AppError } from '../../../errors.ts'
import { asAppError } from '../../lib/api.ts'
import { draftStore } from '../../lib/drafts.ts'
import { newId } from '../../lib/ids.ts'
import { useMe } from '../../lib/session.ts'
import { type MadeMove, sendMoves } from '../lib/send-moves.ts'
import {
  type CellName,
  carriedOver,
  EMPTY_ROW,
  entryOf,
  type RowIds,
  type RowText,
  recordedOf,
  rowIds,
  rowOf,
} from './sheet.ts'
import { movesOf } from './sheet-moves.ts'

/** A paper sheet as it is kept on this device until all of it is saved. */
interface Sheet {
  readonly tableId: Id
  readonly addTable: Id
  readonly rows: Readonly<Record<number, { readonly text: RowText; readonly ids: RowIds }>>
}

type RowStatus = 'typing' | 'saving' | 'saved' | 'failed'

export interface SheetEditing {
  readonly table: TableState | undefined
  readonly restored: boolean
  readonly textOf: (round: number) => RowText
  readonly thereOf: (round: number) => RoundState | undefined
  readonly statusOf: (round: number) => RowStatus
  readonly errorOf: (round: number) => AppError | null
  readonly set: (round: number, cell: CellName, text: string) => void
  /** What a blank cell takes over when it is reached. */
  readonly carried: (round: number, cell: CellName) => string
  /** Sends a round that has no problems, after those that are on their way. */
  readonly save: (round: number) => Promise<boolean>
  /** Forgets what is typed. */
  readonly forget: () => void
}

/** One table's paper sheet: typed, kept on this device, saved round by round. */
export function useSheet(state: RoomState, name: string): SheetEditing {
  const me = useMe()
  const { room, tables } = state
  const rules = { kit: room.kit, settings: room.settings }
  const table = tables.find((one) => same(one.name, name))
  const key = `keying:${room.id}:${name.trim().toLowerCase()}`
  const store = useMemo(() => draftStore(me.id, localStorage), [me.id])
  const [{ sheet, restored }, setSheet] = useState(() => {
    const kept = store.read(key)?.fields as Sheet | undefined
    const fresh: Sheet = { tableId: newId(), addTable: newId(), rows: {} }
    return { sheet: kept ?? fresh, restored: kept !== undefined }
  })
  const [status, setStatus] = useState<Readonly<Record<number, RowStatus>>>({})
  const [errors, setErrors] = useState<Readonly<Record<number, AppError | null>>>({})
  // What sending reads: it goes on after the render that began it.
  const latest = useRef({ sheet, table })
  useEffect(() => {
    latest.current = { sheet, table }
  })
  const queue = useRef<Promise<unknown>>(Promise.resolve())
  /** The table was sent, and may not have come back yet. */
  const sentTable = useRef(false)

  const thereOf = (round: number) => table?.rounds.find((one) => one.number === round)
  const rowAt = (from: Sheet, round: number) =>
    from.rows[round] ?? { text: EMPTY_ROW, ids: rowIds(newId) }

  const set = (round: number, cell: CellName, text: string) => {
    setSheet((old) => {
      const row = rowAt(old.sheet, round)
      const next: Sheet = {
        ...old.sheet,
        rows: { ...old.sheet.rows, [round]: { ...row, text: { ...row.text, [cell]: text } } },
      }
      store.write(key, { version: 0, fields: { ...next }, base: {} })
      latest.current = { ...latest.current, sheet: next }
      return { sheet: next, restored: old.restored }
    })
    setErrors((old) => (old[round] == null ? old : { ...old, [round]: null }))
  }

  const send = async (round: number): Promise<boolean> => {
    const now = latest.current
    const row = now.sheet.rows[round]
    if (row === undefined) return false
    const there = now.table?.rounds.find((one) => one.number === round)
    const madeAt = performance.now()
    const tableId = now.table?.id ?? now.sheet.tableId
    const moves: MadeMove[] = []
    if (now.table === undefined && !sentTable.current)
      moves.push({
        id: now.sheet.addTable,
        madeAt,
        body: { kind: 'add-table', newTableId: tableId, name: name.trim(), firstRound: 1 },
      })
    const entry = entryOf(row.text, recordedOf(there), rules)
    const items = room.kit.checklist.length
    moves.push(...movesOf({ tableId, round, entry, ids: row.ids, there, items }, madeAt))
    try {
      await sendMoves(room.id, moves)
      sentTable.current = true
      setStatus((old) => ({ ...old, [round]: 'saved' }))
      return true
    } catch (thrown) {
      setStatus((old) => ({ ...old, [round]: 'failed' }))
      setErrors((old) => ({ ...old, [round]: asAppError(thrown) }))
      return false
    }
  }

  return {
    table,
    restored,
    textOf: (round) => rowAt(sheet, round).text,
    thereOf,
    statusOf: (round) => (thereOf(round)?.stage === 'done' ? 'saved' : (status[round] ?? 'typing')),
    errorOf: (round) => errors[round] ?? null,
    set,
    carried: (round, cell) => {
      const before = thereOf(round - 1)
      const own = sheet.rows[round - 1]?.text
      const items = room.kit.checklist.length
      const typed = own ?? null
      return carriedOver(cell, before?.stage === 'done' ? rowOf(before, items) : typed)
    },
    save: (round) => {
      setStatus((old) => ({ ...old, [round]: 'saving' }))
      const turn = queue.current.then(() => send(round))
      queue.current = turn
      return turn
    },
    forget: () => {
      store.remove(key)
      const fresh: Sheet = { tableId: newId(), addTable: newId(), rows: {} }
      latest.current = { ...latest.current, sheet: fresh }
      setSheet({ sheet: fresh, restored: false })
    },
  }
}

const same = (a: string, b: string) => a.trim().toLowerCase() === b.trim().toLowerCase()
