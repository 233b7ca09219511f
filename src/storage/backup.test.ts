import { copyFileSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { onBothEngines } from '../../tests/support/engines.ts'
import {
  NOW,
  OWNER,
  sampleId,
  writeExperiments,
  writeSample,
} from '../../tests/support/sample-record.ts'
import { backUp } from './backup.ts'
import { type Database, openDatabase, type Place } from './database.ts'
import { restore } from './restore.ts'
import { openSqlite } from './sqlite.ts'
import { TABLE_NAMES } from './tables.ts'
import { verify } from './verify.ts'

const entry = { action: 'sample', by: OWNER, at: NOW }

onBothEngines('backup and restore', ({ engine, place }) => {
  let folder = ''
  let db: Database
  let file = ''
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'pawl-backup-'))
    file = join(folder, 'copy.sqlite')
    db = await openDatabase(await place())
    await db.record(entry, async (write) => {
      const { measure } = await writeSample(write)
      await writeExperiments(write)
      // A child with a smaller id than its parent, so that it is copied first.
      const child = { id: sampleId('B', 1), parentId: sampleId('T', 1), name: 'Bay A' }
      await write.insert('unit', { ...child, origin: 'own', version: 1 })
      // And so a measure that repeats another.
      const same = { unitId: child.id, sameAsId: measure.id }
      await write.insert('measure', { ...measure, ...same, id: sampleId('B', 2) })
      await write.insert('session', {
        id: sampleId('S', 1),
        personId: OWNER.id,
        tokenHash: 'hash',
        createdAt: NOW,
        expiresAt: NOW,
      })
    })
    await backUp(db, file)
  })
  afterAll(async () => {
    await db?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  async function everything(of: Database) {
    const tables: Record<string, unknown[]> = {}
    for (const table of TABLE_NAMES)
      if (table !== 'session')
        tables[table] = (await of.read.selectFrom(table).selectAll().orderBy('id').execute()).map(
          (row) => ({ ...row }),
        )
    return tables
  }

  const targets: [string, () => Promise<Place>][] = [
    ['the same engine', place],
    ['SQLite', async () => ({ dataDir: join(folder, 'into-sqlite') })],
  ]
  it.each(targets)('brings everything back into %s, without sessions', async (_name, target) => {
    const where = await target()
    const { verification, sessionsEnded, keptAside } = await restore(file, where, false, NOW)
    expect(verification.findings).toEqual([])
    expect(sessionsEnded).toBe(1)
    expect(keptAside).toBeNull()
    const restored = await openDatabase(where)
    expect(await everything(restored)).toEqual(await everything(db))
    expect(await restored.read.selectFrom('session').selectAll().execute()).toEqual([])
    const more = restored.record(entry, (write) =>
      write.update('unit', sampleId('T', 1), null, { name: 'Ward 5' }),
    )
    await expect(more).resolves.toMatchObject({ version: 2 })
    expect((await restored.snapshot(verify)).findings).toEqual([])
    await restored.close()
  })

  it('brings back a backup by an earlier Pawl, whose later tables are empty then', async () => {
    const old = join(folder, 'earlier.sqlite')
    copyFileSync(file, old)
    const connection = openSqlite(old)
    connection.handle.exec('DROP TABLE "rampNote"; DELETE FROM "migration" WHERE "id" > 1')
    connection.close()
    const where = { dataDir: join(folder, 'from-earlier') }
    const { verification, counts } = await restore(old, where, false, NOW)
    expect(verification.findings).toEqual([])
    expect(counts.get('rampNote')).toBe(0)
    const restored = await openDatabase(where)
    expect(await everything(restored)).toEqual(await everything(db))
    await restored.close()
  })

  it('holds one moment while others write', async () => {
    const busy = await openDatabase(await place())
    await busy.record(entry, (write) => writeSample(write))
    const stop = { now: false }
    const writing = (async () => {
      for (let i = 2; !stop.now; i++)
        await busy.record(entry, async (write) => {
          await write.insert('annotation', {
            id: sampleId('N', i),
            measureId: sampleId('M', 1),
            at: '2026-03-01',
            text: `Note ${i}`,
            version: 1,
          })
          await write.update('measure', sampleId('M', 1), null, { goal: i / 10_000 })
        })
    })()
    const copy = join(folder, 'busy.sqlite')
    await new Promise((resolve) => setTimeout(resolve, 50))
    await backUp(busy, copy)
    stop.now = true
    await writing
    await busy.close()
    const where = { dataDir: join(folder, 'busy') }
    const { verification, counts } = await restore(copy, where, false, NOW)
    expect(verification.findings).toEqual([])
    expect(counts.get('annotation')).toBe(counts.get('journal')! - 1)
  })

  it('does not overwrite a record unless told to, and then keeps it aside', async () => {
    const where = await place()
    const before = await openDatabase(where)
    await before.record(entry, (write) => writeSample(write, 'own', 0))
    await before.close()
    await expect(restore(file, where, false, NOW)).rejects.toMatchObject({
      code: 'restore.not_empty',
    })
    const { keptAside } = await restore(file, where, true, NOW)
    expect(keptAside).toContain('before')
    const after = await openDatabase(where)
    expect(await after.read.selectFrom('unit').selectAll().execute()).toHaveLength(2)
    await after.close()
    if (engine === 'sqlite') {
      expect(existsSync(keptAside!)).toBe(true)
      expect(readdirSync(where.dataDir)).toHaveLength(2)
    } else {
      const aside = await openDatabase({ ...where, schema: keptAside!.replace('schema ', '') })
      expect(await aside.read.selectFrom('unit').selectAll().execute()).toHaveLength(1)
      expect((await aside.snapshot(verify)).findings).toEqual([])
      await aside.close()
    }
  })

  it('refuses while the record is in use', async () => {
    const where = await place()
    const used = await openDatabase(where)
    await used.record(entry, (write) => writeSample(write))
    await expect(restore(file, where, true, NOW)).rejects.toMatchObject({ code: 'restore.in_use' })
    expect(await used.read.selectFrom('unit').selectAll().execute()).toHaveLength(1)
    await used.close()
  })

  it('refuses a file that is no backup, and leaves the place as it was', async () => {
    const where = { dataDir: join(folder, 'untouched') }
    const bad = join(folder, 'notes.txt')
    writeFileSync(bad, 'not a database at all, only some text')
    await expect(restore(bad, where, false, NOW)).rejects.toMatchObject({
      code: 'backup.unreadable',
    })
    await expect(restore(join(folder, 'absent'), where, false, NOW)).rejects.toMatchObject({
      code: 'backup.unreadable',
    })
    expect(existsSync(where.dataDir)).toBe(false)
  })

  it('brings back a backup made before a plan held what suggests its size', async () => {
    const old = join(folder, 'old.sqlite')
    await backUp(db, old)
    const handle = new DatabaseSync(old)
    const triggers = handle.prepare(`SELECT name FROM sqlite_master WHERE type = 'trigger'`).all()
    for (const { name } of triggers) handle.exec(`DROP TRIGGER "${String(name)}"`)
    for (const column of ['belief', 'failureCost', 'readiness'])
      handle.exec(`ALTER TABLE "cycle" DROP COLUMN "${column}"`)
    handle.exec('DELETE FROM "migration" WHERE "id" = 2')
    handle.close()
    const where = await place()
    const { verification } = await restore(old, where, false, NOW)
    expect(verification.findings).toEqual([])
    const restored = await openDatabase(where)
    expect(await everything(restored)).toEqual(await everything(db))
    await restored.close()
  })

  it('never writes over a file', async () => {
    await expect(backUp(db, file)).rejects.toMatchObject({ code: 'backup.exists' })
  })
})
