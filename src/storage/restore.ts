import { existsSync, renameSync } from 'node:fs'
import { join } from 'node:path'
import type { Instant } from '../domain/record.ts'
import { AppError } from '../errors.ts'
import { copyToSqlite, openBackup, removeSqlite } from './backup.ts'
import { type Connection, quoted } from './connection.ts'
import { copyTables } from './copy-tables.ts'
import {
  type Database,
  exclusivelyOn,
  makeDataDir,
  openDatabase,
  openSqliteDatabase,
  type Place,
  sqliteFile,
} from './database.ts'
import { addGuards, createSchema, migrate } from './migrations.ts'
import { DEFAULT_SCHEMA, openPostgres, type PostgresPool, SERVER_NAME } from './postgres.ts'
import { openSqlite, type SqliteConnection } from './sqlite.ts'
import { type Verification, verify } from './verify.ts'

export interface Restored {
  readonly counts: ReadonlyMap<string, number>
  readonly verification: Verification
  /** Where the record that was there before is kept; `null` when there was none. */
  readonly keptAside: string | null
  readonly sessionsEnded: number
}

/**
 * Brings a backup back: writes it to a new place, ends the sessions in it, proves it with `verify`,
 * and only then puts it where the record is. What was there is kept aside.
 *
 * @param replace Whether a record that is there may be moved aside.
 * @throws AppError `backup.unreadable`; `restore.not_empty`; `restore.in_use` while a server runs;
 *   `verify.failed` when the backup does not agree with itself.
 */
export async function restore(
  file: string,
  place: Place,
  replace: boolean,
  now: Instant,
): Promise<Restored> {
  const backup = await openBackup(file)
  try {
    return place.databaseUrl === undefined
      ? await restoreSqlite(backup, place, replace, now)
      : await restorePostgres(backup, place, place.databaseUrl, replace, now)
  } finally {
    backup.close()
  }
}

const stamp = (now: Instant) => now.replace(/\D/g, '').slice(0, 14)

function refuseToOverwrite(what: string): never {
  throw new AppError(
    'restore.not_empty',
    `${what} holds a record already.`,
    'Add --replace to move it aside and put the backup in its place, or choose an empty place.',
  )
}

function refuseWhileInUse(): never {
  throw new AppError(
    'restore.in_use',
    'A server is using this record.',
    'Stop it (Ctrl-C), restore, then start it again.',
  )
}

async function restoreSqlite(
  backup: Connection,
  place: Place,
  replace: boolean,
  now: Instant,
): Promise<Restored> {
  makeDataDir(place.dataDir)
  const target = sqliteFile(place.dataDir)
  const occupied = existsSync(target)
  if (occupied && !replace) refuseToOverwrite(place.dataDir)
  if (occupied) makeSingleFile(target)

  const fresh = join(place.dataDir, 'pawl-restoring.sqlite')
  removeSqlite(fresh)
  try {
    const counts = await copyToSqlite(backup, fresh)
    const proof = await prove(await openSqliteDatabase(fresh), now)
    makeSingleFile(fresh)
    const aside = join(place.dataDir, `pawl-before-${stamp(now)}.sqlite`)
    if (occupied) renameSync(target, aside)
    renameSync(fresh, target)
    return { ...proof, counts, keptAside: occupied ? aside : null }
  } catch (error) {
    removeSqlite(fresh)
    throw error
  }
}

/** Folds the write-ahead log into the file, which only works while nobody else has it open. */
function makeSingleFile(file: string): void {
  let connection: SqliteConnection | undefined
  try {
    connection = openSqlite(file)
    connection.handle.exec('PRAGMA busy_timeout = 200')
    const { journal_mode: mode } = connection.handle
      .prepare('PRAGMA journal_mode = DELETE')
      .get() as { journal_mode: string }
    if (mode !== 'delete') refuseWhileInUse()
  } catch (error) {
    if ((error as { errcode?: number }).errcode === 5) refuseWhileInUse()
    throw error
  } finally {
    connection?.close()
  }
}

async function restorePostgres(
  backup: Connection,
  place: Place,
  url: string,
  replace: boolean,
  now: Instant,
): Promise<Restored> {
  const schema = place.schema ?? DEFAULT_SCHEMA
  const fresh = `${schema}_restoring`
  const aside = `${schema}_before_${stamp(now)}`
  const pool = await openPostgres(url, { schema, name: 'pawl-restore', size: 2 })
  try {
    const occupied = await schemaExists(pool, schema)
    if (occupied && !replace) refuseToOverwrite(`The schema ${schema} of this database`)
    if (await serverRuns(pool)) refuseWhileInUse()
    await pool.execute(`DROP SCHEMA IF EXISTS ${quoted(fresh)} CASCADE`)

    const counts = await fillPostgres(backup, url, fresh)
    const copy = await openDatabase({ ...place, schema: fresh })
    const proof = await prove(copy, now)
    await exclusivelyOn(pool, async (connection) => {
      const rename = (from: string, to: string) =>
        connection.execute(`ALTER SCHEMA ${quoted(from)} RENAME TO ${quoted(to)}`)
      if (occupied) await rename(schema, aside)
      await rename(fresh, schema)
    })
    return { ...proof, counts, keptAside: occupied ? `schema ${aside}` : null }
  } finally {
    await pool.execute(`DROP SCHEMA IF EXISTS ${quoted(fresh)} CASCADE`)
    await pool.close()
  }
}

async function fillPostgres(
  backup: Connection,
  url: string,
  schema: string,
): Promise<Map<string, number>> {
  const pool = await openPostgres(url, { schema, name: 'pawl-restore', size: 1 })
  try {
    let counts = new Map<string, number>()
    await exclusivelyOn(pool, async (connection) => {
      await createSchema(connection, schema)
      await migrate(connection, false)
      await connection.execute('SET CONSTRAINTS ALL DEFERRED')
      counts = await copyTables(backup, connection)
      await connection.execute('SET CONSTRAINTS ALL IMMEDIATE')
      await addGuards(connection)
    })
    return counts
  } finally {
    await pool.close()
  }
}

async function schemaExists(pool: PostgresPool, schema: string): Promise<boolean> {
  const { rows } = await pool.execute('SELECT 1 AS "there" FROM pg_namespace WHERE nspname = $1', [
    schema,
  ])
  return rows.length > 0
}

async function serverRuns(pool: PostgresPool): Promise<boolean> {
  const { rows } = await pool.execute(
    'SELECT 1 AS "there" FROM pg_stat_activity WHERE datname = current_database() AND application_name = $1',
    [SERVER_NAME],
  )
  return rows.length > 0
}

/** Ends the sessions of a copy, then checks that it agrees with its own journal. Closes it. */
async function prove(
  copy: Database,
  at: Instant,
): Promise<Pick<Restored, 'verification' | 'sessionsEnded'>> {
  try {
    const entry = { action: 'record.restore', by: null, at }
    const sessionsEnded = await copy.record(entry, async (write) => {
      const sessions = await write.read.selectFrom('session').select('id').execute()
      for (const { id } of sessions) await write.remove('session', id, null)
      return sessions.length
    })
    const verification = await copy.snapshot(verify)
    if (verification.findings.length > 0)
      throw new AppError(
        'verify.failed',
        `The backup does not agree with its own journal: ${verification.findings[0]!.text}`,
        'Nothing was replaced. Use an earlier backup, and find out who changed this one.',
        { findings: verification.findings },
      )
    return { verification, sessionsEnded }
  } finally {
    await copy.close()
  }
}
