import { rmSync } from 'node:fs'
import { expect, it } from 'vitest'
import { onBothEngines } from '../../tests/support/engines.ts'
import { NOW, OWNER, sampleId } from '../../tests/support/sample-record.ts'
import { testFolder } from '../../tests/support/side-by-side.ts'
import { type Connection, placeholders, quoted, type Row } from './connection.ts'
import { makeDataDir, openDatabase, type Place, sqliteFile } from './database.ts'
import { guards } from './guards.ts'
import { hashOf, journaledRow } from './journal.ts'
import { createSchema, migrate, schemaVersion } from './migrations.ts'
import { openPostgres } from './postgres.ts'
import { restore } from './restore.ts'
import { openSqlite } from './sqlite.ts'
import { JOURNAL_COLUMNS } from './tables.ts'
import { verify } from './verify.ts'

/** Tables as migration 6 left them, with the rows that one write made, parents first. */
const ROWS: readonly (readonly [string, Row])[] = [
  ['unit', { id: sampleId('T', 1), parentId: null, name: 'Ward 4', origin: 'own', version: 1 }],
  [
    'person',
    {
      ...OWNER,
      email: null,
      role: 'owner',
      passwordHash: null,
      closedAt: null,
      origin: 'own',
      version: 1,
    },
  ],
  [
    'project',
    {
      id: sampleId('J', 1),
      unitId: sampleId('T', 1),
      name: 'Summaries',
      aim: '',
      leadId: OWNER.id,
      origin: 'own',
      createdAt: NOW,
      version: 1,
    },
  ],
  [
    'measure',
    {
      id: sampleId('M', 1),
      projectId: sampleId('J', 1),
      name: 'Sent in time',
      role: 'process',
      dataKind: 'classified',
      valueFormat: 'number',
      unitLabel: 'summaries',
      per: 1,
      better: 'up',
      operationalDefinition: 'By the ward clerk, every evening.',
      collectionPlan: '',
      goal: 0.8,
      chartKind: 'auto',
      ruleSet: 'auto',
      version: 1,
    },
  ],
  [
    'cycle',
    {
      id: sampleId('C', 1),
      projectId: sampleId('J', 1),
      rampId: sampleId('C', 1),
      number: 1,
      buildsOnId: null,
      origin: 'own',
      createdAt: NOW,
      title: 'A named sender',
      question: '',
      change: '',
      who: '',
      where: 'Ward 4',
      plannedFrom: null,
      plannedTo: null,
      howMany: '',
      collection: '',
      belief: null,
      failureCost: null,
      readiness: null,
      determination: 'improvement',
      approval: 'on-record',
      approvalNote: '',
      couldHarm: 'no',
      stopRule: '',
      stopMeasureId: null,
      lockedAt: null,
      lockedById: null,
      ranFrom: null,
      ranTo: null,
      happened: '',
      wentWrong: '',
      surprises: '',
      doneAt: null,
      learned: '',
      predictionReview: '',
      studiedAt: null,
      version: 1,
    },
  ],
  [
    'prediction',
    {
      id: sampleId('R', 1),
      cycleId: sampleId('C', 1),
      measureId: sampleId('M', 1),
      expected: 0.7,
      low: 0.6,
      high: 0.8,
      confidence: 0.8,
      why: '',
      version: 1,
    },
  ],
]
const LOCK: Row = {
  lockedAt: NOW,
  lockedById: OWNER.id,
  ranFrom: '2026-03-02',
  doneAt: NOW,
  studiedAt: NOW,
  version: 2,
}
const DECISION: Row = {
  id: sampleId('D', 1),
  cycleId: sampleId('C', 1),
  kind: 'adopt',
  reason: 'Inside the range.',
  nextChange: '',
  suggestedKind: 'keep-collecting',
  suggestedReasons: 'Two points are too few.',
  differsBecause: 'The ward keeps it anyway.',
  at: NOW,
  byId: OWNER.id,
}

/** The record as the Pawl before would have made it: its tables, its guards, its journal. */
async function writeRecordOfVersionSix(connection: Connection): Promise<void> {
  await migrate(connection, false, 6)
  for (const { name, statements } of guards(connection.engine))
    if (!name.startsWith('measure_'))
      for (const statement of statements) await connection.execute(statement)
  const insert = (table: string, row: Row) =>
    connection.execute(
      `INSERT INTO ${quoted(table)} (${Object.keys(row).map(quoted).join(', ')})
       VALUES (${placeholders(Object.keys(row).length)})`,
      Object.values(row),
    )
  let hash = ''
  let seq = 0
  const journal = async (action: string, changes: readonly object[]) => {
    const row = {
      seq: ++seq,
      at: NOW,
      personId: OWNER.id,
      personName: OWNER.name,
      action,
      changes: JSON.stringify(changes),
      prevHash: hash,
    }
    hash = hashOf(row)
    const whole: Row = { ...row, hash }
    await insert(
      'journal',
      Object.fromEntries(JOURNAL_COLUMNS.map((column) => [column, whole[column]!])),
    )
  }
  for (const [table, row] of ROWS) await insert(table, row)
  await journal(
    'sample',
    ROWS.map(([table, row]) => ({ table, id: row['id'], before: null, after: journaledRow(row) })),
  )
  const columns = Object.keys(LOCK)
  await connection.execute(
    `UPDATE "cycle" SET ${columns.map((column, i) => `${quoted(column)} = $${i + 1}`).join(', ')}`,
    Object.values(LOCK),
  )
  const before = Object.fromEntries(columns.map((c) => [c, c === 'version' ? 1 : null]))
  await journal('cycle.lock', [{ table: 'cycle', id: sampleId('C', 1), before, after: LOCK }])
  await insert('decision', DECISION)
  await journal('cycle.decide', [
    { table: 'decision', id: DECISION['id'], before: null, after: DECISION },
  ])
}

/** Runs work on a bare connection to a place, in one transaction. */
async function on(place: Place, work: (connection: Connection) => Promise<void>): Promise<void> {
  if (place.databaseUrl === undefined) {
    makeDataDir(place.dataDir)
    const sqlite = openSqlite(sqliteFile(place.dataDir))
    await sqlite.execute('BEGIN')
    await work(sqlite)
    await sqlite.execute('COMMIT')
    sqlite.close()
    return
  }
  const pool = await openPostgres(place.databaseUrl)
  await createSchema(pool, pool.schema)
  await pool.use(async (connection) => {
    await connection.execute('BEGIN')
    await work(connection)
    await connection.execute('COMMIT')
  })
  await pool.close()
}

onBothEngines('a record of schema 6', ({ place }) => {
  it('keeps its lock, its decision and its journal when it is brought up to date', async () => {
    const where = await place()
    await on(where, writeRecordOfVersionSix)
    const db = await openDatabase(where)
    expect(await db.snapshot(schemaVersion)).toBeGreaterThanOrEqual(8)
    const { findings, journalRows, rows } = await db.snapshot(verify)
    expect(findings).toEqual([])
    expect([journalRows, rows]).toEqual([3, 7])
    const [decision] = await db.read.selectFrom('decision').selectAll().execute()
    expect({ ...decision }).toEqual(DECISION)
    const [measure] = await db.read.selectFrom('measure').selectAll().execute()
    expect(measure).toMatchObject({ unitId: null, sameAsId: null, goal: 0.8 })

    const entry = { action: 'late', by: OWNER, at: NOW }
    await expect(
      db.record(entry, (write) => write.update('cycle', sampleId('C', 1), null, { change: 'x' })),
    ).rejects.toThrow()
    await expect(
      db.record(entry, (write) =>
        write.update('prediction', sampleId('R', 1), null, { expected: 0.75 }),
      ),
    ).rejects.toThrow()
    await expect(
      db.record(entry, (write) =>
        write.update('measure', sampleId('M', 1), null, { sameAsId: sampleId('M', 1) }),
      ),
    ).rejects.toThrow()
    const repeat = await db.record(entry, async (write) => {
      const unit = { id: sampleId('T', 2), parentId: null, name: 'Ward 7', version: 1 }
      await write.insert('unit', { ...unit, origin: 'own' })
      return write.insert('measure', {
        ...measure!,
        id: sampleId('B', 2),
        unitId: unit.id,
        sameAsId: measure!.id,
      })
    })
    await expect(
      db.record(entry, (write) =>
        write.insert('measure', { ...repeat, id: sampleId('M', 3), sameAsId: repeat.id }),
      ),
    ).rejects.toThrow()
    expect((await db.snapshot(verify)).findings).toEqual([])
    await db.close()
  })

  it('comes back from a backup that was made then', async () => {
    const dataDir = testFolder()
    await on({ dataDir }, writeRecordOfVersionSix)
    const where = await place()
    const { verification } = await restore(sqliteFile(dataDir), where, false, NOW)
    rmSync(dataDir, { recursive: true, force: true })
    expect(verification.findings).toEqual([])
    const restored = await openDatabase(where)
    const [decision] = await restored.read.selectFrom('decision').selectAll().execute()
    expect({ ...decision }).toEqual(DECISION)
    await restored.close()
  })
})
