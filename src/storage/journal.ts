import { createHash } from 'node:crypto'
import type { Cell, Row } from './connection.ts'
import { type JournalRow, SECRET_COLUMNS, type TableName } from './tables.ts'

/**
 * What one write did to one row: the columns that changed, before and after. `before` is `null` for
 * a new row, `after` for a removed one; both then hold every column of the other.
 */
export interface RowChange {
  readonly table: TableName
  readonly id: string
  readonly before: Row | null
  readonly after: Row | null
}

/** What one write to a workshop did, as the journal has it. */
export interface RoomWrite {
  readonly seq: number
  readonly changes: readonly RowChange[]
}

/**
 * The text whose SHA-256 is a journal row's hash: the UTF-8 of a JSON array without spaces,
 * `["pawl-journal-1",seq,at,personId,personName,action,changes,prevHash]`, where `changes` is the
 * stored text itself (so it appears as a JSON string) and `prevHash` is the hash of the row before,
 * `""` for the first. Anyone can recompute it without this program.
 */
export function canonicalText(row: Omit<JournalRow, 'hash'>): string {
  return JSON.stringify([
    'pawl-journal-1',
    row.seq,
    row.at,
    row.personId,
    row.personName,
    row.action,
    row.changes,
    row.prevHash,
  ])
}

/** The hash of a journal row, 64 hexadecimal digits. */
export function hashOf(row: Omit<JournalRow, 'hash'>): string {
  return createHash('sha256').update(canonicalText(row)).digest('hex')
}

/** The value as the journal shows it: secrets are replaced by a mark that only tells whether they changed. */
export function journaled(column: string, value: Cell): Cell {
  if (value === null || !SECRET_COLUMNS.has(column)) return value
  return `secret, sha256 ${createHash('sha256').update(String(value)).digest('hex')}`
}

/** A row, or some of its columns, as the journal shows it. */
export function journaledRow(row: Row): Row {
  const shown: Row = {}
  for (const column of Object.keys(row)) shown[column] = journaled(column, row[column]!)
  return shown
}
