import type { Id } from '../../domain/record.ts'
import type { Room, RoomTable } from '../../domain/workshop/room.ts'
import type { TableRows } from '../../domain/workshop/table-state.ts'
import type { Row } from '../../storage/connection.ts'
import type { RowChange } from '../../storage/journal.ts'
import type { TableName } from '../../storage/tables.ts'
import type { RoomRows } from './whole-room.ts'

/** What writes touched of one room; it is gathered over several. */
export interface Touched {
  room: boolean
  readonly tableIds: Set<Id>
  /** A seat went to another table, was taken out or let in again. */
  seats: boolean
}

/**
 * What a write was for one room. `misfit`: what it changed was not as it is kept here, so that
 * these rows are of no use any more, and the room is to be read again.
 */
type Taken = 'touched' | 'elsewhere' | 'misfit'

/** The rows of one room as they were read, kept up to date by what the journal says of each write. */
export interface KeptRows {
  room(): Room
  tables(): Iterable<TableRows>
  table(id: Id): TableRows
  take(changes: readonly RowChange[], touched: Touched): Taken
}

/** How rows of one kind hang below a table of the workshop, and in which order a reader gets them. */
interface Kind {
  readonly list: Exclude<keyof TableRows, 'table' | 'lastMoveAt'>
  readonly below: string
  readonly order: readonly string[]
}

const KINDS: { readonly [T in TableName]?: Kind } = {
  roomSeat: { list: 'seats', below: 'tableId', order: ['joinedAt', 'id'] },
  cycle: { list: 'cycles', below: 'projectId', order: ['number'] },
  prediction: { list: 'predictions', below: 'cycleId', order: ['id'] },
  decision: { list: 'decisions', below: 'cycleId', order: [] },
  trial: { list: 'trials', below: 'cycleId', order: ['number'] },
  observation: { list: 'observations', below: 'trialId', order: [] },
  reading: { list: 'readings', below: 'trialId', order: ['id'] },
  inspection: { list: 'inspections', below: 'trialId', order: ['id'] },
  roomMove: { list: 'starts', below: 'tableId', order: ['receivedAt', 'id'] },
}

/** @param read The rows as they were at one moment; they are this one's own from now on. */
export function keptRows(read: RoomRows): KeptRows {
  let { room } = read
  const tables = new Map<Id, TableRows>()
  /** The table that a row belongs to, by the row's id; its project's id too. */
  const tableOf = new Map<Id, Id>()
  for (const rows of read.tables) {
    keep(rows)
    for (const { list } of Object.values(KINDS))
      for (const { id } of listOf(rows, list)) tableOf.set(id as Id, rows.table.id)
  }

  function keep(rows: TableRows): void {
    tables.set(rows.table.id, rows)
    tableOf.set(rows.table.id, rows.table.id)
    tableOf.set(rows.table.projectId, rows.table.id)
  }

  /** The table that a row hangs below, if it is one of this room's. */
  function homeOf(row: Row | null, { below }: Kind): Id | undefined {
    const above = row?.[below]
    return typeof above === 'string' ? tableOf.get(above) : undefined
  }

  function put(tableId: Id, { list, order }: Kind, row: Row): void {
    const rows = listOf(tables.get(tableId)!, list)
    let at = rows.length
    while (at > 0 && comesAfter(rows[at - 1]!, row, order)) at--
    rows.splice(at, 0, row)
    tableOf.set(row['id'] as Id, tableId)
  }

  function takeRoom({ id, before, after }: RowChange, touched: Touched): Taken {
    if (id !== room.id) return 'elsewhere'
    if (after === null || !fits(room, before)) return 'misfit'
    room = { ...room, ...after } as Room
    touched.room = true
    return 'touched'
  }

  function takeTable({ id, before, after }: RowChange, touched: Touched): Taken {
    const rows = tables.get(id)
    if (rows === undefined) {
      if (after?.['roomId'] !== room.id) return 'elsewhere'
      keep(emptyTable(after as unknown as RoomTable))
    } else {
      if (after === null || !fits(rows.table, before)) return 'misfit'
      keep({ ...rows, table: { ...rows.table, ...after } as RoomTable })
    }
    touched.tableIds.add(id)
    return 'touched'
  }

  function takeMove(change: RowChange, kind: Kind, touched: Touched): Taken {
    const { before, after } = change
    if (before !== null) return before['roomId'] === room.id ? 'misfit' : 'elsewhere'
    if (after?.['roomId'] !== room.id) return 'elsewhere'
    if (after['tableId'] === null) return 'touched'
    const rows = tables.get(after['tableId'] as Id)
    if (rows === undefined) return 'misfit'
    const at = after['at'] as string
    if (rows.lastMoveAt === null || at > rows.lastMoveAt) keep({ ...rows, lastMoveAt: at })
    if (after['kind'] === 'start') return takeRow(change, kind, touched)
    touched.tableIds.add(rows.table.id)
    return 'touched'
  }

  function takeRow({ id, before, after }: RowChange, kind: Kind, touched: Touched): Taken {
    const from = tableOf.get(id)
    if (from === undefined) {
      const to = homeOf(after, kind)
      if (to === undefined) return 'elsewhere'
      if (before !== null) return 'misfit'
      put(to, kind, after!)
      touched.tableIds.add(to)
      return 'touched'
    }
    const list = listOf(tables.get(from)!, kind.list)
    const at = list.findIndex((row) => row['id'] === id)
    const row = list[at]
    if (row === undefined || !fits(row, before)) return 'misfit'
    list.splice(at, 1)
    tableOf.delete(id)
    touched.tableIds.add(from)
    if (after === null) return 'touched'
    const changed = { ...row, ...after }
    const to = homeOf(changed, kind)
    if (to === undefined) return 'misfit'
    put(to, kind, changed)
    touched.tableIds.add(to)
    if (kind.list === 'seats' && ('tableId' in after || 'removedAt' in after)) touched.seats = true
    return 'touched'
  }

  function takeOne(change: RowChange, touched: Touched): Taken {
    if (change.table === 'room') return takeRoom(change, touched)
    if (change.table === 'roomTable') return takeTable(change, touched)
    const kind = KINDS[change.table]
    if (kind === undefined) return 'elsewhere'
    return kind.list === 'starts' ? takeMove(change, kind, touched) : takeRow(change, kind, touched)
  }

  return {
    room: () => room,
    tables: () => tables.values(),
    table: (id) => tables.get(id)!,
    take(changes, touched) {
      const wasClosed = room.closedAt !== null
      let all: Taken = 'elsewhere'
      for (const change of changes) {
        const taken = takeOne(change, touched)
        if (taken === 'misfit') return taken
        if (taken === 'touched') all = taken
      }
      // The records of a closed workshop change by other ways too, which its feed does not follow.
      if (all === 'touched' && (wasClosed || room.closedAt !== null)) return 'misfit'
      return all
    },
  }
}

const listOf = (rows: TableRows, list: Kind['list']) => rows[list] as unknown as Row[]

function emptyTable(table: RoomTable): TableRows {
  const none = {
    seats: [],
    cycles: [],
    predictions: [],
    decisions: [],
    trials: [],
    observations: [],
    readings: [],
    inspections: [],
    starts: [],
  }
  return { table, ...none, lastMoveAt: null }
}

/** Whether a row is as a change found it. */
function fits(row: object, before: Row | null): boolean {
  if (before === null) return false
  const is = row as Row
  for (const column of Object.keys(before)) if (is[column] !== before[column]) return false
  return true
}

function comesAfter(one: Row, other: Row, order: readonly string[]): boolean {
  for (const column of order) {
    const [a, b] = [one[column]!, other[column]!]
    if (a !== b) return a > b
  }
  return false
}
