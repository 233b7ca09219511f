import { chmodSync, existsSync, mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Kysely } from 'kysely'
import { AppError } from '../errors.ts'
import type { Connection, Engine } from './connection.ts'
import { queriesOn } from './dialect.ts'
import { opened } from './driver-errors.ts'
import type { RoomWrite } from './journal.ts'
import { createSchema, isCurrent, migrate, schemaVersion } from './migrations.ts'
import { openPostgres, type PostgresPool } from './postgres.ts'
import { listen } from './postgres-listen.ts'
import {
  type Exclusive,
  type Recorder,
  ROOM_CHANNEL,
  type RoomWritesTold,
  recorder,
} from './record.ts'
import { openSqlite } from './sqlite.ts'
import type { Schema } from './tables.ts'

export interface Database {
  readonly engine: Engine
  /** What is committed. */
  readonly read: Kysely<Schema>
  readonly record: Recorder['record']
  /** Reads of one moment, however long they take; nothing written meanwhile is seen. */
  snapshot<T>(work: (connection: Connection) => Promise<T>): Promise<T>
  /**
   * Follows what is written to workshops, until `stop` is called. On SQLite nobody else writes, so
   * each write is handed over once it is committed. On PostgreSQL another process may have written
   * before: that something was written is said (`null`), and the journal has it in order.
   */
  onRoomWrites(told: (writes: readonly RoomWrite[] | null) => void): { stop(): Promise<void> }
  /** Waits for the writes that are under way, then closes. */
  close(): Promise<void>
}

/** Where the record is kept: a PostgreSQL URL where there is one, else a file in the data folder. */
export interface Place {
  readonly dataDir: string
  readonly databaseUrl?: string | undefined
  /** PostgreSQL schema; ours by default. */
  readonly schema?: string
}

/** The number on which writers of one PostgreSQL database queue ("pawl" in ASCII). */
const WRITERS_LOCK = 0x7061776c

export const sqliteFile = (dataDir: string) => join(dataDir, 'pawl.sqlite')

/** Makes the data folder if it is absent: for nobody but its owner, since it holds the whole record. */
export function makeDataDir(dataDir: string): void {
  if (existsSync(dataDir)) return
  mkdirSync(dataDir, { recursive: true, mode: 0o700 })
  chmodSync(dataDir, 0o700)
}

/** Opens the record and brings it up to date. */
export async function openDatabase(place: Place): Promise<Database> {
  if (place.databaseUrl !== undefined) return openPostgresDatabase(place.databaseUrl, place.schema)
  const path = sqliteFile(place.dataDir)
  try {
    makeDataDir(place.dataDir)
    return await openSqliteDatabase(path)
  } catch (error) {
    throw opened(error, path)
  }
}

/** Opens a record that is there already. @throws AppError `place.no_record` when it is not. */
export async function openExisting(place: Place): Promise<Database> {
  const { dataDir, databaseUrl, schema } = place
  const there =
    databaseUrl === undefined
      ? existsSync(sqliteFile(dataDir))
      : await hasSchema(databaseUrl, schema)
  if (there) return openDatabase(place)
  throw new AppError(
    'place.no_record',
    databaseUrl === undefined
      ? `There is no record in ${dataDir}.`
      : 'There is no record in this database.',
    'Set PAWL_DATA (or DATABASE_URL) to where the server keeps it.',
  )
}

async function hasSchema(url: string, schema?: string): Promise<boolean> {
  const pool = await openPostgres(url, schema === undefined ? {} : { schema })
  try {
    return (await schemaVersion(pool)) > 0
  } finally {
    await pool.close()
  }
}

/** Opens the record in one SQLite file. */
export async function openSqliteDatabase(path: string): Promise<Database> {
  const writer = openSqlite(path)
  const exclusive: Exclusive = async (work) => {
    await writer.execute('BEGIN IMMEDIATE')
    try {
      await work(writer)
      await writer.execute('COMMIT')
    } catch (error) {
      if (writer.handle.isTransaction) await writer.execute('ROLLBACK')
      throw error
    }
  }
  if (!(await isCurrent(writer))) await exclusive((connection) => migrate(connection))
  // Pages read from a connection of their own, so none sees a write before its commit.
  const reader = openSqlite(path, { readOnly: true })
  const listeners = new Set<RoomWritesTold>()
  const { record, settled } = recorder(exclusive, (writes) => {
    for (const told of listeners) told(writes)
  })
  return {
    engine: 'sqlite',
    read: queriesOn(reader),
    record,
    async snapshot(work) {
      const own = openSqlite(path, { readOnly: true })
      try {
        await own.execute('BEGIN')
        return await work(own)
      } finally {
        own.close()
      }
    },
    onRoomWrites(told) {
      listeners.add(told)
      return { stop: async () => void listeners.delete(told) }
    },
    async close() {
      await settled()
      reader.close()
      writer.close()
    },
  }
}

async function openPostgresDatabase(url: string, schema?: string): Promise<Database> {
  const pool = await openPostgres(url, schema === undefined ? {} : { schema })
  const exclusive: Exclusive = (work) => exclusivelyOn(pool, work)
  try {
    if (!(await isCurrent(pool)))
      await exclusive(async (connection) => {
        await createSchema(connection, pool.schema)
        await migrate(connection)
      })
  } catch (error) {
    await pool.close()
    throw error
  }
  const listeners = new Set<() => void>()
  const { record, settled } = recorder(exclusive, () => {
    for (const told of listeners) told()
  })
  return {
    engine: 'postgres',
    read: queriesOn(pool),
    record,
    snapshot: (work) => snapshotOn(pool, work),
    onRoomWrites(told) {
      const wake = () => told(null)
      // A write of this process is known of before PostgreSQL tells of it.
      listeners.add(wake)
      const listening = listen(url, ROOM_CHANNEL, wake)
      return {
        async stop() {
          listeners.delete(wake)
          await listening.stop()
        },
      }
    },
    async close() {
      await settled()
      await pool.close()
    },
  }
}

/** A transaction on PostgreSQL that no other writer of ours, in any process, can be in meanwhile. */
export function exclusivelyOn(
  pool: PostgresPool,
  work: (connection: Connection) => Promise<void>,
): Promise<void> {
  return pool.use(async (connection) => {
    await connection.execute('BEGIN ISOLATION LEVEL READ COMMITTED')
    await connection.execute(`SELECT pg_advisory_xact_lock(${WRITERS_LOCK})`)
    await work(connection)
    await connection.execute('COMMIT')
  })
}

/** A read-only transaction on PostgreSQL that sees one moment. */
function snapshotOn<T>(
  pool: PostgresPool,
  work: (connection: Connection) => Promise<T>,
): Promise<T> {
  return pool.use(async (connection) => {
    await connection.execute('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY')
    const value = await work(connection)
    await connection.execute('COMMIT')
    return value
  })
}
