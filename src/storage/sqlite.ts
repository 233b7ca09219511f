import { DatabaseSync, type SQLInputValue, type StatementSync } from 'node:sqlite'
import type { Connection, Result, Row } from './connection.ts'

/** Statements kept ready. Lists of varying length (`in (…)`) would fill it without end. */
const STATEMENTS_KEPT = 400
/** How long a statement waits for another process that is writing, in milliseconds. */
const BUSY_TIMEOUT = 10_000

export interface SqliteConnection extends Connection {
  readonly engine: 'sqlite'
  readonly handle: DatabaseSync
  close(): void
}

interface Prepared {
  readonly statement: StatementSync
  readonly returnsRows: boolean
}

/**
 * Opens one connection to a SQLite file, durable: an acknowledged commit survives power loss.
 *
 * @param path A file, made if it is absent; `''` for a temporary database that vanishes on close.
 */
export function openSqlite(path: string, { readOnly = false } = {}): SqliteConnection {
  const handle = new DatabaseSync(path, { readOnly, timeout: BUSY_TIMEOUT })
  if (!readOnly) handle.exec('PRAGMA journal_mode = WAL')
  handle.exec('PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON')
  const ready = new Map<string, Prepared>()

  function prepare(sql: string): Prepared {
    const known = ready.get(sql)
    if (known !== undefined) return known
    const statement = handle.prepare(sql.replace(/\$\d+/g, '?'))
    const prepared = { statement, returnsRows: statement.columns().length > 0 }
    if (ready.size >= STATEMENTS_KEPT) ready.delete(ready.keys().next().value!)
    ready.set(sql, prepared)
    return prepared
  }

  return {
    engine: 'sqlite',
    handle,
    async execute(sql, parameters = []): Promise<Result> {
      const { statement, returnsRows } = prepare(sql)
      const values = parameters as SQLInputValue[]
      if (returnsRows) return { rows: statement.all(...values) as Row[], changes: 0 }
      return { rows: [], changes: Number(statement.run(...values).changes) }
    },
    close() {
      ready.clear()
      handle.close()
    },
  }
}
