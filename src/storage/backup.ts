import { chmodSync, existsSync, rmSync } from 'node:fs'
import { rename } from 'node:fs/promises'
import { AppError } from '../errors.ts'
import type { Connection } from './connection.ts'
import { copyTables } from './copy-tables.ts'
import type { Database } from './database.ts'
import { addGuards, checkKnownVersion, migrate, schemaVersion } from './migrations.ts'
import { openSqlite, type SqliteConnection } from './sqlite.ts'

/**
 * Writes a consistent copy of the record to one SQLite file, whichever engine keeps it, while it is
 * in use. The file appears under its name only when it is whole.
 *
 * @throws AppError `backup.exists` when there is a file of that name already.
 */
export async function backUp(db: Database, file: string): Promise<Map<string, number>> {
  if (existsSync(file))
    throw new AppError(
      'backup.exists',
      `${file} exists already; it is not overwritten.`,
      'Choose another name, or move that file away.',
      { file },
    )
  const unfinished = `${file}.unfinished`
  removeSqlite(unfinished)
  try {
    const counts = await db.snapshot((from) => copyToSqlite(from, unfinished))
    await rename(unfinished, file)
    return counts
  } catch (error) {
    removeSqlite(unfinished)
    throw error
  }
}

/** Copies every table to a new SQLite file. */
export async function copyToSqlite(from: Connection, file: string): Promise<Map<string, number>> {
  const to = openSqlite(file)
  try {
    // It holds everything: for nobody but its owner.
    chmodSync(file, 0o600)
    // One file, without a write-ahead log beside it.
    to.handle.exec('PRAGMA journal_mode = DELETE')
    return await fillSqlite(from, to)
  } finally {
    to.close()
  }
}

async function fillSqlite(from: Connection, to: SqliteConnection): Promise<Map<string, number>> {
  to.handle.exec('BEGIN; PRAGMA defer_foreign_keys = ON')
  await migrate(to, false)
  const counts = await copyTables(from, to)
  await addGuards(to)
  to.handle.exec('COMMIT')
  return counts
}

/** Removes a SQLite file and what SQLite keeps beside it. */
export function removeSqlite(file: string): void {
  for (const suffix of ['', '-wal', '-shm', '-journal']) rmSync(file + suffix, { force: true })
}

/**
 * Opens a backup for reading.
 *
 * @throws AppError `backup.unreadable` when the file is no backup of Pawl; `storage.newer`.
 */
export async function openBackup(file: string): Promise<SqliteConnection> {
  const unreadable = (reason: string) =>
    new AppError(
      'backup.unreadable',
      `${file} is not a backup of Pawl: ${reason}.`,
      'Give a file that "pawl backup FILE" wrote.',
      { file },
    )
  if (!existsSync(file)) throw unreadable('there is no such file')
  let connection: SqliteConnection | undefined
  try {
    connection = openSqlite(file, { readOnly: true })
    const { rows } = await connection.execute('PRAGMA quick_check')
    const verdict = String(rows[0]?.['quick_check'])
    if (verdict !== 'ok') throw new Error(`it is damaged (${verdict})`)
    const version = await schemaVersion(connection)
    if (version === 0) throw new Error('it has none of its tables')
    checkKnownVersion(version, file)
    return connection
  } catch (error) {
    connection?.close()
    throw error instanceof AppError ? error : unreadable((error as Error).message)
  }
}
