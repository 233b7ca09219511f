import type { Kysely } from 'kysely'
import type { Id, Instant } from '../domain/record.ts'
import { AppError } from '../errors.ts'
import { type Connection, placeholders, quoted, type Row } from './connection.ts'
import { queriesOn } from './dialect.ts'
import { explained } from './driver-errors.ts'
import { hashOf, journaledRow, type RoomWrite, type RowChange } from './journal.ts'
import {
  COLUMNS,
  JOURNAL_COLUMNS,
  type RecordTables,
  type Schema,
  type TableName,
} from './tables.ts'

interface Entry {
  /** What was done, a stable slug such as `cycle.lock`. */
  readonly action: string
  /** Who did it; `null` for the program itself. */
  readonly by: { readonly id: Id; readonly name: string } | null
  readonly at: Instant
}

/** What a write can do. Everything it does is one journal row, all or nothing. */
export interface Write {
  /** The number of its row in the journal, once anything is written. */
  readonly seq: number
  /** Reads that see this write's own changes. */
  readonly read: Kysely<Schema>
  /**
   * A row as it is now, to be changed in this write.
   *
   * @param version The version the change was made on; `null` where any will do.
   * @param yours   What the change wants, shown beside the current row where it is refused.
   * @throws AppError `record.not_found`; `record.stale` with both versions in its details.
   */
  current<T extends TableName>(
    table: T,
    id: Id,
    version: number | null,
    yours?: object,
  ): Promise<RecordTables[T]>
  insert<T extends TableName>(table: T, row: RecordTables[T]): Promise<RecordTables[T]>
  /**
   * Changes columns of a row and raises its version; a change that changes nothing saves nothing.
   *
   * @param version The version the change was made on; `null` where the row was read in this write.
   * @throws AppError `record.not_found`; `record.stale` with both versions in its details.
   */
  update<T extends TableName>(
    table: T,
    id: Id,
    version: number | null,
    change: Partial<Omit<RecordTables[T], 'id' | 'version'>>,
  ): Promise<RecordTables[T]>
  /** @throws AppError `record.not_found`, `record.stale`. */
  remove(table: TableName, id: Id, version: number | null): Promise<void>
}

/** Runs a transaction on the one connection that may write, alone among all processes. */
export type Exclusive = (work: (connection: Connection) => Promise<void>) => Promise<void>

export interface Recorder {
  record<T>(entry: Entry, work: (write: Write) => Promise<T>): Promise<T>
  /** Waits for the writes that are under way. */
  settled(): Promise<void>
}

interface Job {
  readonly entry: Entry
  readonly work: (write: Write) => Promise<unknown>
  readonly resolve: (value: unknown) => void
  readonly reject: (error: unknown) => void
}

/** What the writes of workshops begin with, and where PostgreSQL tells of them. */
export const ROOM_ACTIONS = 'room.'
export const ROOM_CHANNEL = 'pawl_room'

/** Writes that share one commit at most. Each is acknowledged only after it. */
const BATCH = 64

/** Is told what was written to workshops, after its commit and before anybody else. */
export type RoomWritesTold = (writes: readonly RoomWrite[]) => void

/**
 * The one way in: every write goes through here, and enters the journal in the same transaction.
 *
 * Writes are done one after the other, so the chain is a line. Those that wait at the same moment
 * share one commit, each in a savepoint of its own: one that fails leaves the others alone.
 */
export function recorder(exclusive: Exclusive, told: RoomWritesTold): Recorder {
  const waiting: Job[] = []
  let running: Promise<void> | null = null

  async function drain(): Promise<void> {
    while (waiting.length > 0) {
      // Lets every request that has arrived join the batch, and the rest of the program have its
      // turn: while more come, a commit of theirs would only keep the next ones waiting.
      let before = 0
      while (before < waiting.length && waiting.length < BATCH) {
        before = waiting.length
        await new Promise(setImmediate)
      }
      await commit(exclusive, waiting.splice(0, BATCH), told)
    }
    running = null
  }

  return {
    record: (entry, work) =>
      new Promise((resolve, reject) => {
        waiting.push({ entry, work, resolve: resolve as Job['resolve'], reject })
        running ??= drain()
      }),
    async settled() {
      while (running !== null) await running
    },
  }
}

async function commit(
  exclusive: Exclusive,
  jobs: readonly Job[],
  told: RoomWritesTold,
): Promise<void> {
  const settle: (() => void)[] = []
  const written: RoomWrite[] = []
  try {
    await exclusive(async (connection) => {
      settle.length = 0
      written.length = 0
      const head = await journalHead(connection)
      for (const job of jobs) settle.push(await attempt(connection, job, head, written))
    })
  } catch (error) {
    const reason = explained(error)
    for (const job of jobs) job.reject(reason)
    return
  }
  if (written.length > 0) told(written)
  for (const finish of settle) finish()
}

/** Does one job inside the open transaction; gives back how to tell its caller after the commit. */
async function attempt(
  connection: Connection,
  job: Job,
  head: Head,
  written: RoomWrite[],
): Promise<() => void> {
  await connection.execute('SAVEPOINT one_write')
  const before = { ...head }
  try {
    const { write, changes } = writerOn(connection, head.seq + 1)
    const value = await job.work(write)
    const ofRooms = changes.length > 0 && job.entry.action.startsWith(ROOM_ACTIONS)
    if (changes.length > 0) await append(connection, job.entry, changes, head)
    // Heard by every process after the commit, and only then.
    if (ofRooms && connection.engine === 'postgres')
      await connection.execute(`NOTIFY ${ROOM_CHANNEL}`)
    await connection.execute('RELEASE SAVEPOINT one_write')
    if (ofRooms) written.push({ seq: write.seq, changes })
    return () => job.resolve(value)
  } catch (error) {
    await connection.execute('ROLLBACK TO SAVEPOINT one_write')
    await connection.execute('RELEASE SAVEPOINT one_write')
    Object.assign(head, before)
    return () => job.reject(explained(error))
  }
}

interface Head {
  seq: number
  hash: string
}

async function journalHead(connection: Connection): Promise<Head> {
  const { rows } = await connection.execute(
    'SELECT "seq", "hash" FROM "journal" ORDER BY "seq" DESC LIMIT 1',
  )
  const last = rows[0]
  if (last === undefined) return { seq: 0, hash: '' }
  return { seq: last['seq'] as number, hash: last['hash'] as string }
}

const APPEND = `INSERT INTO "journal" (${JOURNAL_COLUMNS.map(quoted).join(', ')})
  VALUES (${placeholders(JOURNAL_COLUMNS.length)})`

async function append(
  connection: Connection,
  { action, by, at }: Entry,
  changes: readonly RowChange[],
  head: Head,
): Promise<void> {
  const unhashed = {
    seq: head.seq + 1,
    at,
    personId: by?.id ?? null,
    personName: by?.name ?? '',
    action,
    changes: JSON.stringify(changes),
    prevHash: head.hash,
  }
  const row = { ...unhashed, hash: hashOf(unhashed) }
  await connection.execute(
    APPEND,
    JOURNAL_COLUMNS.map((column) => row[column]),
  )
  head.seq = row.seq
  head.hash = row.hash
}

function writerOn(connection: Connection, seq: number): { write: Write; changes: RowChange[] } {
  const changes: RowChange[] = []
  const write: Write = {
    seq,
    read: queriesOn(connection),
    async current(table, id, version, yours = {}) {
      const row = await currentRow(connection, table, id)
      checkVersion(table, row, version, yours)
      return row as never
    },
    async insert(table, row) {
      const columns = COLUMNS[table]
      const values = row as unknown as Row
      await connection.execute(
        statement('insert', table),
        columns.map((column) => values[column]),
      )
      const after = Object.fromEntries(columns.map((column) => [column, values[column]!]))
      changes.push({ table, id: values['id'] as string, before: null, after: journaledRow(after) })
      return row
    },
    async update(table, id, version, change) {
      const current = await currentRow(connection, table, id)
      checkVersion(table, current, version, change)
      const given = change as Row
      const changed = COLUMNS[table].filter(
        (column) =>
          column !== 'id' &&
          column !== 'version' &&
          given[column] !== undefined &&
          given[column] !== current[column],
      )
      if (changed.length === 0) return current as never
      const after: Row = Object.fromEntries(changed.map((column) => [column, given[column]!]))
      if ('version' in current) after['version'] = (current['version'] as number) + 1
      const columns = Object.keys(after)
      const assignments = columns.map((column, i) => `${quoted(column)} = $${i + 1}`).join(', ')
      await connection.execute(
        `UPDATE ${quoted(table)} SET ${assignments} WHERE "id" = $${columns.length + 1}`,
        [...columns.map((column) => after[column]), id],
      )
      const before = Object.fromEntries(columns.map((column) => [column, current[column]!]))
      changes.push({ table, id, before: journaledRow(before), after: journaledRow(after) })
      return { ...current, ...after } as never
    },
    async remove(table, id, version) {
      const current = await currentRow(connection, table, id)
      checkVersion(table, current, version, {})
      await connection.execute(statement('delete', table), [id])
      changes.push({ table, id, before: journaledRow(current), after: null })
    },
  }
  return { write, changes }
}

async function currentRow(connection: Connection, table: TableName, id: Id): Promise<Row> {
  const { rows } = await connection.execute(statement('select', table), [id])
  const row = rows[0]
  if (row === undefined) throw notFound(table, id)
  return row
}

/** The error for a record that is not there. */
export function notFound(table: TableName, id: Id): AppError {
  return new AppError(
    'record.not_found',
    `There is no ${table} ${id}.`,
    'It may have been removed; go back and reload the page.',
    { table, id },
  )
}

function checkVersion(table: TableName, current: Row, version: number | null, yours: object): void {
  if (version === null || current['version'] === version) return
  const { passwordHash: _, ...shown } = current
  throw new AppError(
    'record.stale',
    `This ${table} was saved by someone else in the meantime (version ${current['version']}; yours was made on ${version}).`,
    'Compare the two, then save again on the current version.',
    { table, current: shown, yours: { ...shown, ...yours, version } },
  )
}

const STATEMENTS = new Map<string, string>()

/** Statements that are the same for every row of a table, written once. */
function statement(kind: 'insert' | 'select' | 'delete', table: TableName): string {
  const key = kind + table
  let text = STATEMENTS.get(key)
  if (text === undefined) {
    const columns = COLUMNS[table]
    const names = columns.map(quoted).join(', ')
    text =
      kind === 'insert'
        ? `INSERT INTO ${quoted(table)} (${names}) VALUES (${placeholders(columns.length)})`
        : kind === 'select'
          ? `SELECT ${names} FROM ${quoted(table)} WHERE "id" = $1`
          : `DELETE FROM ${quoted(table)} WHERE "id" = $1`
    STATEMENTS.set(key, text)
  }
  return text
}
