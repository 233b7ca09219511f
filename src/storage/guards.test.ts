import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { onBothEngines } from '../../tests/support/engines.ts'
import { type RawSql, rawSql } from '../../tests/support/raw-sql.ts'
import {
  NOW,
  OWNER,
  sampleId,
  writeExperiments,
  writeSample,
} from '../../tests/support/sample-record.ts'
import { type Database, openDatabase } from './database.ts'
import { COLUMNS } from './tables.ts'

onBothEngines('guards', ({ engine, place }) => {
  let db: Database
  let raw: RawSql
  beforeAll(async () => {
    const where = await place()
    db = await openDatabase(where)
    const entry = { action: 'sample', by: OWNER, at: NOW }
    await db.record(entry, (write) => writeSample(write))
    await db.record(entry, (write) => writeSample(write, 'example', 1))
    await db.record(entry, (write) => writeExperiments(write))
    await db.record(entry, (write) => writeExperiments(write, 'example', 1))
    raw = await rawSql(where)
  })
  afterAll(async () => {
    await raw?.close()
    await db?.close()
  })
  const locked = sampleId('C', 1)
  const open = sampleId('C', 2)
  const id = (kind: string, n = 1) => `"id" = '${sampleId(kind, n)}'`

  const refused: [string, string, RegExp][] = [
    ['changing a journal row', `UPDATE "journal" SET "action" = 'x' WHERE "seq" = 1`, /journal/],
    ['deleting a journal row', `DELETE FROM "journal" WHERE "seq" = 2`, /journal/],
    [
      'adding a journal row out of turn',
      `INSERT INTO "journal" SELECT 9, "at", "personId", "personName", "action", "changes", "hash", "hash" FROM "journal" WHERE "seq" = 2`,
      /follow/,
    ],
    [
      'adding a journal row to another chain',
      `INSERT INTO "journal" SELECT 3, "at", "personId", "personName", "action", "changes", "prevHash", "hash" FROM "journal" WHERE "seq" = 2`,
      /follow/,
    ],
    [
      'changing a locked prediction',
      `UPDATE "prediction" SET "low" = 0.1 WHERE ${id('R')}`,
      /locked/,
    ],
    ['deleting a locked prediction', `DELETE FROM "prediction" WHERE ${id('R')}`, /locked/],
    [
      'adding a prediction after the lock',
      `INSERT INTO "prediction" SELECT '${sampleId('R', 9)}', "cycleId", "measureId", "expected", "low", "high", "confidence", "why", 1 FROM "prediction" WHERE ${id('R')}`,
      /closed/,
    ],
    [
      'moving a prediction into a locked test',
      `UPDATE "prediction" SET "cycleId" = '${locked}' WHERE ${id('R', 2)}`,
      /locked/,
    ],
    [
      'moving a prediction out of a locked test',
      `UPDATE "prediction" SET "cycleId" = '${open}' WHERE ${id('R')}`,
      /locked/,
    ],
    ['deleting a locked test', `DELETE FROM "cycle" WHERE ${id('C')}`, /locked/],
    [
      'locking a test without a whole prediction',
      `UPDATE "prediction" SET "low" = NULL WHERE ${id('R', 2)}; UPDATE "cycle" SET "lockedAt" = '${NOW}', "lockedById" = '${OWNER.id}' WHERE ${id('C', 2)}`,
      /whole prediction/,
    ],
    [
      'adding a test that is locked from the start',
      `INSERT INTO "cycle" (${COLUMNS.cycle.map((c) => `"${c}"`).join(', ')}) SELECT ${COLUMNS.cycle
        .map((c) => (c === 'id' ? `'${sampleId('C', 9)}'` : c === 'number' ? '9' : `"${c}"`))
        .join(', ')} FROM "cycle" WHERE ${id('C')}`,
      /unlocked/,
    ],
    ['changing an addendum', `UPDATE "addendum" SET "text" = 'x' WHERE ${id('A')}`, /addendum/],
    ['deleting an addendum', `DELETE FROM "addendum" WHERE ${id('A')}`, /addendum/],
    [
      'changing a decision',
      `UPDATE "decision" SET "kind" = 'abandon' WHERE ${id('D')}`,
      /decision/,
    ],
    [
      'changing what was suggested for a decision',
      `UPDATE "decision" SET "suggestedKind" = 'adopt', "suggestedReasons" = 'x',
        "differsBecause" = '' WHERE ${id('D')}`,
      /decision/,
    ],
    ['deleting a decision', `DELETE FROM "decision" WHERE ${id('D')}`, /decision/],
    [
      'making a unit an example',
      `UPDATE "unit" SET "origin" = 'example' WHERE ${id('T')}`,
      /came from/,
    ],
    [
      'making a test an example, to delete it',
      `UPDATE "cycle" SET "origin" = 'example' WHERE ${id('C', 2)}`,
      /came from/,
    ],
    [
      'making a project an example',
      `UPDATE "project" SET "origin" = 'example' WHERE ${id('J')}`,
      /came from/,
    ],
    [
      'making a person an example',
      `UPDATE "person" SET "origin" = 'example' WHERE ${id('P')}`,
      /came from/,
    ],
    [
      'changing an example’s locked prediction',
      `UPDATE "prediction" SET "low" = 0.1 WHERE ${id('R', 101)}`,
      /locked/,
    ],
    [
      'changing an example’s decision',
      `UPDATE "decision" SET "kind" = 'abandon' WHERE ${id('D', 101)}`,
      /decision/,
    ],
    ['deleting a locked experiment', `DELETE FROM "experiment" WHERE ${id('E')}`, /locked/],
    [
      'locking an experiment without runs',
      `UPDATE "experiment" SET "lockedAt" = '${NOW}', "lockedById" = '${OWNER.id}', "seed" = 1 WHERE ${id('E', 2)}`,
      /predictions and runs/,
    ],
    [
      'adding an experiment that is locked from the start',
      `INSERT INTO "experiment" (${COLUMNS.experiment.map((c) => `"${c}"`).join(', ')}) SELECT ${COLUMNS.experiment
        .map((c) => (c === 'id' ? `'${sampleId('E', 9)}'` : `"${c}"`))
        .join(', ')} FROM "experiment" WHERE ${id('E')}`,
      /unlocked/,
    ],
    [
      'making an experiment an example',
      `UPDATE "experiment" SET "origin" = 'example' WHERE ${id('E', 2)}`,
      /came from/,
    ],
    [
      'changing a prediction of a locked experiment',
      `UPDATE "experimentFactor" SET "expected" = 9 WHERE ${id('F', 10)}`,
      /locked prediction/,
    ],
    [
      'moving a change out of a locked experiment',
      `UPDATE "experimentFactor" SET "experimentId" = '${sampleId('E', 2)}', "position" = 9 WHERE ${id('F', 10)}`,
      /locked prediction/,
    ],
    [
      'moving a change into a locked experiment',
      `UPDATE "experimentFactor" SET "experimentId" = '${sampleId('E', 1)}', "position" = 9 WHERE ${id('F', 20)}`,
      /locked prediction/,
    ],
    [
      'deleting a change of a locked experiment',
      `DELETE FROM "experimentFactor" WHERE ${id('F', 10)}`,
      /part of a locked/,
    ],
    [
      'adding a change to a locked experiment',
      `INSERT INTO "experimentFactor" SELECT '${sampleId('F', 9)}', "experimentId", 9, "name", "low", "high", "middle", "expected", "why", 1 FROM "experimentFactor" WHERE ${id('F', 10)}`,
      /closed/,
    ],
    ...(
      [
        ['levels', `'..'`],
        ['position', '9'],
        ['experimentId', `'${sampleId('E', 2)}'`],
      ] as const
    ).map(([column, value]): [string, string, RegExp] => [
      `changing the ${column} of a run`,
      `UPDATE "experimentRun" SET "${column}" = ${value} WHERE ${id('N', 2)}`,
      /levels and the order/,
    ]),
    ['deleting a run', `DELETE FROM "experimentRun" WHERE ${id('N')}`, /part of a locked/],
    [
      'adding a run after the lock',
      `INSERT INTO "experimentRun" SELECT '${sampleId('N', 9)}', "experimentId", 9, "levels", NULL, NULL, NULL, "note", NULL, 1 FROM "experimentRun" WHERE ${id('N')}`,
      /closed/,
    ],
    [
      'adding a run that has a response',
      `INSERT INTO "experimentRun" SELECT '${sampleId('N', 9)}', '${sampleId('E', 2)}', 1, "levels", 5, "at", "byId", "note", NULL, 1 FROM "experimentRun" WHERE ${id('N')}`,
      /without a response/,
    ],
    [
      'a response before the lock',
      `INSERT INTO "experimentRun" SELECT '${sampleId('N', 9)}', '${sampleId('E', 2)}', 1, "levels", NULL, NULL, NULL, "note", NULL, 1 FROM "experimentRun" WHERE ${id('N')}; UPDATE "experimentRun" SET "response" = 5, "at" = '${NOW}', "byId" = '${OWNER.id}' WHERE ${id('N', 9)}`,
      /after the lock/,
    ],
  ]
  it.each(refused)('refuse %s', async (_what, sql, message) => {
    await expect(inTransaction(sql)).rejects.toThrow(message)
  })

  /** What a refused statement did before it was refused is undone, so that the cases stay apart. */
  async function inTransaction(sql: string) {
    await raw.run('BEGIN')
    try {
      await raw.run(sql)
    } finally {
      await raw.run('ROLLBACK')
    }
  }

  const frozen: Record<string, string> = {
    title: `'x'`,
    question: `'x'`,
    change: `'x'`,
    who: `'x'`,
    where: `'x'`,
    plannedFrom: `'2026-01-01'`,
    plannedTo: `'2026-01-01'`,
    howMany: `'x'`,
    collection: `'x'`,
    belief: `'high'`,
    failureCost: `'large'`,
    readiness: `'ready'`,
    determination: `'research'`,
    approval: `'not-yet'`,
    approvalNote: `'x'`,
    couldHarm: `'yes'`,
    stopRule: `'x'`,
    stopMeasureId: `'${sampleId('M', 1)}'`,
    lockedAt: `'2026-01-01T00:00:00.000Z'`,
    lockedById: 'NULL',
    rampId: `'${open}'`,
    number: '7',
    buildsOnId: `'${open}'`,
    createdAt: `'2026-01-01T00:00:00.000Z'`,
    projectId: `'${sampleId('J', 101)}'`,
  }
  it.each(Object.entries(frozen))('refuse to change %s of a locked test', async (column, value) => {
    await expect(
      inTransaction(`UPDATE "cycle" SET "${column}" = ${value} WHERE ${id('C')}`),
    ).rejects.toThrow(/plan of a locked test|came from/)
  })

  const frozenOfExperiment: Record<string, string> = {
    title: `'x'`,
    question: `'x'`,
    measureId: `'${sampleId('M', 1)}'`,
    response: `'x'`,
    responseKind: `'share'`,
    unitLabel: `'x'`,
    better: `'up'`,
    conditions: `'x'`,
    generators: `'C=AB'`,
    replicates: '2',
    centerPoints: '3',
    guessedSd: '2',
    determination: `'research'`,
    approval: `'not-yet'`,
    approvalNote: `'x'`,
    couldHarm: `'yes'`,
    stopRule: `'x'`,
    stopMeasureId: `'${sampleId('M', 1)}'`,
    lockedAt: `'2026-01-01T00:00:00.000Z'`,
    seed: '7',
    createdAt: `'2026-01-01T00:00:00.000Z'`,
    projectId: `'${sampleId('J', 101)}'`,
  }
  it.each(Object.entries(frozenOfExperiment))(
    'refuse to change %s of a locked experiment',
    async (column, value) => {
      await expect(
        inTransaction(`UPDATE "experiment" SET "${column}" = ${value} WHERE ${id('E')}`),
      ).rejects.toThrow(/plan of a locked experiment/)
    },
  )

  it('refuse to change every column of a locked experiment but what was learned', () => {
    const open = ['id', 'origin', 'lockedById', 'learned', 'version']
    expect([...Object.keys(frozenOfExperiment), ...open].sort()).toEqual(
      [...COLUMNS.experiment].sort(),
    )
  })

  it('refuse to unlock a test', async () => {
    await expect(
      inTransaction(`UPDATE "cycle" SET "lockedAt" = NULL, "lockedById" = NULL WHERE ${id('C')}`),
    ).rejects.toThrow(/plan of a locked test/)
  })

  const allowed: [string, string][] = [
    ['Do and Study of a locked test', `UPDATE "cycle" SET "happened" = 'x' WHERE ${id('C')}`],
    ['the plan of an open test', `UPDATE "cycle" SET "change" = 'x' WHERE ${id('C', 2)}`],
    ['a prediction of an open test', `UPDATE "prediction" SET "low" = 0.1 WHERE ${id('R', 2)}`],
    ['removing an open prediction', `DELETE FROM "prediction" WHERE ${id('R', 2)}`],
    ['what was learned', `UPDATE "experiment" SET "learned" = 'x' WHERE ${id('E')}`],
    ['another response', `UPDATE "experimentRun" SET "response" = 5 WHERE ${id('N')}`],
    [
      'leaving a run out',
      `UPDATE "experimentRun" SET "leftOutReason" = 'Spilt.' WHERE ${id('N', 2)}`,
    ],
    [
      'a change of an open plan',
      `UPDATE "experimentFactor" SET "expected" = 9 WHERE ${id('F', 20)}`,
    ],
    [
      'removing an open plan',
      `DELETE FROM "experimentFactor" WHERE "experimentId" = '${sampleId('E', 2)}'; DELETE FROM "experiment" WHERE ${id('E', 2)}`,
    ],
    [
      'removing an experiment of the example',
      ['experimentRun', 'experimentFactor']
        .map((table) => `DELETE FROM "${table}" WHERE "experimentId" = '${sampleId('E', 101)}';`)
        .join('') + `DELETE FROM "experiment" WHERE ${id('E', 101)}`,
    ],
    [
      'removing the example',
      ['D', 'A']
        .map(
          (kind) =>
            `DELETE FROM "${kind === 'D' ? 'decision' : 'addendum'}" WHERE ${id(kind, 101)};`,
        )
        .join('') +
        `DELETE FROM "prediction" WHERE ${id('R', 101)}; DELETE FROM "cycle" WHERE ${id('C', 101)}`,
    ],
  ]
  it.each(allowed)('allow %s', async (_what, sql) => {
    await expect(inTransaction(sql)).resolves.toBeUndefined()
  })

  if (engine === 'sqlite')
    describe('replacing rows the SQLite way', () => {
      it.each([
        ['cycle', locked],
        ['prediction', sampleId('R', 1)],
        ['addendum', sampleId('A', 1)],
        ['decision', sampleId('D', 1)],
        ['experiment', sampleId('E', 1)],
        ['experimentFactor', sampleId('F', 10)],
        ['experimentRun', sampleId('N', 2)],
        ['journal', ''],
      ])('is refused for a %s', async (table, rowId) => {
        const where = table === 'journal' ? '"seq" = 1' : `"id" = '${rowId}'`
        await expect(
          inTransaction(
            `INSERT OR REPLACE INTO "${table}" SELECT * FROM "${table}" WHERE ${where}`,
          ),
        ).rejects.toThrow(/replaced|closed|unlocked|follow/)
      })
    })
  else
    it.each([
      'journal',
      'cycle',
      'prediction',
      'addendum',
      'decision',
      'experiment',
      'experimentFactor',
      'experimentRun',
    ])('refuse to empty %s at once', async (table) => {
      await expect(inTransaction(`TRUNCATE "${table}" CASCADE`)).rejects.toThrow(
        /cannot be emptied/,
      )
    })
})
