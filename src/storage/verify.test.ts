import { afterEach, beforeEach, expect, it } from 'vitest'
import { onBothEngines } from '../../tests/support/engines.ts'
import { type RawSql, rawSql } from '../../tests/support/raw-sql.ts'
import { NOW, OWNER, sampleId, writeSample } from '../../tests/support/sample-record.ts'
import { type Database, openDatabase } from './database.ts'
import { hashOf } from './journal.ts'
import { verify } from './verify.ts'

onBothEngines('verify', ({ engine, place }) => {
  let db: Database
  let raw: RawSql
  beforeEach(async () => {
    const where = await place()
    db = await openDatabase(where)
    await db.record({ action: 'sample', by: OWNER, at: NOW }, (write) => writeSample(write))
    for (let i = 1; i <= 5; i++)
      await db.record({ action: 'unit.rename', by: OWNER, at: NOW }, (write) =>
        write.update('unit', sampleId('T', 1), null, { name: `Ward 4, name ${i}` }),
      )
    raw = await rawSql(where)
  })
  afterEach(async () => {
    await raw.close()
    await db.close()
  })

  /** As an intruder would who owns the database: the guards are taken off first. */
  const withoutGuard = (table: string, guard: string, sql: string) =>
    raw.run(
      engine === 'sqlite'
        ? `DROP TRIGGER "${guard}"; ${sql}`
        : `ALTER TABLE "${table}" DISABLE TRIGGER "${guard}"; ${sql}`,
    )
  const texts = async () => (await db.snapshot(verify)).findings.map(({ text }) => text)

  it('finds nothing in a record that nobody has touched', async () => {
    const { findings, journalRows, rows, head } = await db.snapshot(verify)
    expect(findings).toEqual([])
    expect(journalRows).toBe(6)
    expect(rows).toBe(10)
    const last = await db.read.selectFrom('journal').select('hash').where('seq', '=', 6).execute()
    expect(head).toBe(last[0]!.hash)
  })

  it('names the table, row and column of an edit behind its back', async () => {
    await raw.run(`UPDATE "measure" SET "goal" = 0.6`)
    const { findings } = await db.snapshot(verify)
    expect(findings).toMatchObject([
      { kind: 'row', table: 'measure', id: sampleId('M', 1), column: 'goal' },
    ])
    expect(findings[0]!.text).toContain('the journal says 0.8, the table says 0.6')
  })

  it('finds a changed secret without having it', async () => {
    await raw.run(
      `UPDATE "person" SET "email" = 'intruder@example.org', "passwordHash" = 'intruder'`,
    )
    expect((await db.snapshot(verify)).findings.map(({ column }) => column)).toEqual([
      'email',
      'passwordHash',
    ])
  })

  it('finds rows that were added and rows that were taken away', async () => {
    await raw.run(
      `INSERT INTO "annotation" VALUES ('${sampleId('N', 1)}', '${sampleId('M', 1)}', '2026-03-01', 'x', 1);
       DELETE FROM "prediction" WHERE "id" = '${sampleId('R', 2)}'`,
    )
    expect(await texts()).toEqual([
      expect.stringContaining('the journal does not know this row'),
      expect.stringContaining('the journal has this row, the table does not'),
    ])
  })

  it('finds a prediction improved after the fact, and the missing guard', async () => {
    await withoutGuard(
      'prediction',
      'prediction_no_late_update',
      `UPDATE "prediction" SET "expected" = 0.75 WHERE "id" = '${sampleId('R', 1)}'`,
    )
    expect(await texts()).toEqual([
      expect.stringContaining('column expected: the journal says 0.7, the table says 0.75'),
      expect.stringContaining('prediction_no_late_update'),
    ])
  })

  it('says where the chain breaks when a journal row was edited', async () => {
    await withoutGuard(
      'journal',
      'journal_no_update',
      `UPDATE "journal" SET "personName" = 'Somebody else' WHERE "seq" = 3`,
    )
    const { findings } = await db.snapshot(verify)
    expect(findings[0]).toMatchObject({ kind: 'chain', seq: 3 })
    expect(findings[0]!.text).toContain('expected the hash of its own text')
  })

  it('finds an edited row even where its own hash was made to fit', async () => {
    const [third] = await db.read.selectFrom('journal').selectAll().where('seq', '=', 3).execute()
    const forged = hashOf({ ...third!, personName: 'Somebody else' })
    await withoutGuard(
      'journal',
      'journal_no_update',
      `UPDATE "journal" SET "personName" = 'Somebody else', "hash" = '${forged}' WHERE "seq" = 3`,
    )
    const { findings } = await db.snapshot(verify)
    expect(findings[0]).toMatchObject({ kind: 'chain', seq: 4 })
    expect(findings[0]!.text).toContain('expected the hash of the row before')
  })

  it('finds a journal row that was taken out', async () => {
    await withoutGuard('journal', 'journal_no_delete', `DELETE FROM "journal" WHERE "seq" = 3`)
    const { findings } = await db.snapshot(verify)
    expect(findings[0]).toMatchObject({ kind: 'chain', seq: 4 })
    expect(findings[0]!.text).toContain('expected row 3 next, found row 4')
  })
})
