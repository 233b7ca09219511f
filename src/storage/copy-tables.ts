import { type Connection, placeholders, quoted, type Row } from './connection.ts'
import { COLUMNS, JOURNAL_COLUMNS, TABLE_NAMES } from './tables.ts'

/** Rows held in memory at a time. */
const BATCH = 500

/** Every table with its columns and what its rows are keyed by, parents before children. */
export const ALL_TABLES: readonly {
  readonly table: string
  readonly columns: readonly string[]
  readonly key: 'id' | 'seq'
}[] = [
  ...TABLE_NAMES.map((table) => ({ table, columns: COLUMNS[table], key: 'id' as const })),
  { table: 'journal', columns: JOURNAL_COLUMNS, key: 'seq' },
]

/** All rows of a table in batches, ordered by key; run inside a transaction that sees one moment. */
export async function* batches(
  connection: Connection,
  table: string,
  columns: readonly string[],
  key: 'id' | 'seq',
): AsyncGenerator<Row[]> {
  const select = `SELECT ${columns.map(quoted).join(', ')} FROM ${quoted(table)}`
  const order = `ORDER BY ${quoted(key)} LIMIT ${BATCH}`
  let last: string | number | null = null
  for (;;) {
    const { rows } =
      last === null
        ? await connection.execute(`${select} ${order}`)
        : await connection.execute(`${select} WHERE ${quoted(key)} > $1 ${order}`, [last])
    if (rows.length > 0) yield rows
    if (rows.length < BATCH) return
    last = rows.at(-1)![key] as string | number
  }
}

/**
 * Copies every row of every table from one database to another, whatever their engines.
 *
 * The target has the tables but not yet the guards, and is inside a transaction that checks foreign
 * keys at its end, since a unit may come before the one it lies in.
 *
 * @returns How many rows each table has.
 */
export async function copyTables(from: Connection, to: Connection): Promise<Map<string, number>> {
  const counts = new Map<string, number>()
  const older = await missingTables(from)
  for (const { table, columns, key } of ALL_TABLES) {
    if (older.has(table)) {
      counts.set(table, 0)
      continue
    }
    const there = await columnsThere(from, table, columns)
    const insert = `INSERT INTO ${quoted(table)} (${columns.map(quoted).join(', ')})
      VALUES (${placeholders(columns.length)})`
    let count = 0
    for await (const rows of batches(from, table, there, key)) {
      for (const row of rows)
        await to.execute(
          insert,
          columns.map((column) => row[column] ?? null),
        )
      count += rows.length
    }
    counts.set(table, count)
  }
  return counts
}

/** Of the columns known today, those that this copy has: an older backup lacks the later ones. */
async function columnsThere(
  from: Connection,
  table: string,
  columns: readonly string[],
): Promise<readonly string[]> {
  if (from.engine !== 'sqlite') return columns
  // Asked of the schema: a table without rows lacks its later columns too.
  const { rows } = await from.execute('SELECT name FROM pragma_table_info($1)', [table])
  const there = new Set(rows.map((row) => row['name']))
  return columns.filter((column) => there.has(column))
}

/** Tables that a backup by an earlier Pawl does not have yet. A database in use is always current. */
async function missingTables(from: Connection): Promise<ReadonlySet<string>> {
  if (from.engine !== 'sqlite') return new Set()
  const { rows } = await from.execute(`SELECT name FROM sqlite_master WHERE type = 'table'`)
  const there = new Set(rows.map((row) => row['name']))
  return new Set(ALL_TABLES.map(({ table }) => table).filter((table) => !there.has(table)))
}
