import type { Id } from '../../domain/record.ts'
import type { RowChange } from '../../storage/journal.ts'

/** What some writes touched of one room. */
export interface Touched {
  readonly room: boolean
  readonly tableIds: ReadonlySet<Id>
  /** Seats that are no longer what their feeds were opened as. */
  readonly movedSeats: ReadonlySet<Id>
}

/** Where a table or seat belongs, as far as it is known. */
export interface KnownRoom {
  readonly id: Id
  hasTable(id: Id): boolean
  tableOfSeat(id: Id): Id | null
}

/** What changes of rows mean for one room; `null`: nothing. */
export function touchedBy(changes: readonly RowChange[], room: KnownRoom): Touched | null {
  const tableIds = new Set<Id>()
  const movedSeats = new Set<Id>()
  let itself = false
  let any = false
  const isHere = (row: RowChange['after']) => row !== null && row['roomId'] === room.id
  const add = (tableId: unknown) => {
    if (typeof tableId === 'string') tableIds.add(tableId)
  }
  for (const { table, id, before, after } of changes) {
    if (table === 'room' && id === room.id) itself = true
    else if (table === 'roomTable' && (isHere(after) || isHere(before) || room.hasTable(id)))
      tableIds.add(id)
    else if (table === 'roomMove' && isHere(after)) {
      any = true
      add(after?.['tableId'])
    } else if (table === 'roomSeat') {
      if (before !== null && after !== null && ('tableId' in after || 'removedAt' in after))
        movedSeats.add(id)
      const at = room.tableOfSeat(id)
      if (at === null && !isHere(after) && !isHere(before)) continue
      add(at)
      add(before?.['tableId'])
      add(after?.['tableId'])
    }
  }
  if (!itself && !any && tableIds.size === 0) return null
  return { room: itself, tableIds, movedSeats }
}
