import { AppError } from '../errors.ts'
import { type Connection, quoted } from './connection.ts'
import { guards } from './guards.ts'

interface Migration {
  readonly id: number
  readonly name: string
  /** Statements that both engines take as they are. */
  readonly statements: readonly string[]
}

const ORIGIN = `"origin" TEXT NOT NULL CHECK ("origin" IN ('own', 'example'))`
const VERSION = `"version" INTEGER NOT NULL CHECK ("version" >= 1)`
/** Checked at the end of a copy, at once otherwise. */
const DEFERRABLE = 'DEFERRABLE INITIALLY IMMEDIATE'

const MIGRATIONS: readonly Migration[] = [
  {
    id: 1,
    name: 'the record of a test of change',
    statements: [
      `CREATE TABLE "unit" (
        "id" TEXT PRIMARY KEY,
        "parentId" TEXT REFERENCES "unit" ("id") ${DEFERRABLE},
        "name" TEXT NOT NULL CHECK ("name" <> ''),
        ${ORIGIN},
        ${VERSION}
      )`,
      `CREATE TABLE "person" (
        "id" TEXT PRIMARY KEY,
        "name" TEXT NOT NULL CHECK ("name" <> ''),
        "email" TEXT UNIQUE,
        "role" TEXT NOT NULL CHECK ("role" IN ('viewer', 'member', 'coach', 'owner')),
        "passwordHash" TEXT,
        "closedAt" TEXT,
        ${ORIGIN},
        ${VERSION},
        CHECK (("email" IS NULL) = ("passwordHash" IS NULL))
      )`,
      `CREATE TABLE "session" (
        "id" TEXT PRIMARY KEY,
        "personId" TEXT NOT NULL REFERENCES "person" ("id") ${DEFERRABLE},
        "tokenHash" TEXT NOT NULL UNIQUE,
        "createdAt" TEXT NOT NULL,
        "expiresAt" TEXT NOT NULL
      )`,
      `CREATE INDEX "session_person" ON "session" ("personId")`,
      `CREATE TABLE "project" (
        "id" TEXT PRIMARY KEY,
        "unitId" TEXT NOT NULL REFERENCES "unit" ("id") ${DEFERRABLE},
        "name" TEXT NOT NULL CHECK ("name" <> ''),
        "aim" TEXT NOT NULL,
        "leadId" TEXT REFERENCES "person" ("id") ${DEFERRABLE},
        ${ORIGIN},
        "createdAt" TEXT NOT NULL,
        ${VERSION}
      )`,
      `CREATE INDEX "project_unit" ON "project" ("unitId")`,
      `CREATE TABLE "measure" (
        "id" TEXT PRIMARY KEY,
        "projectId" TEXT NOT NULL REFERENCES "project" ("id") ${DEFERRABLE},
        "name" TEXT NOT NULL CHECK ("name" <> ''),
        "role" TEXT NOT NULL CHECK ("role" IN ('outcome', 'process', 'balancing')),
        "dataKind" TEXT NOT NULL CHECK ("dataKind" IN ('single', 'subgrouped', 'classified',
          'counts', 'rates', 'cases-between', 'time-between')),
        "valueFormat" TEXT NOT NULL CHECK ("valueFormat" IN ('number', 'duration')),
        "unitLabel" TEXT NOT NULL,
        "per" DOUBLE PRECISION NOT NULL CHECK ("per" > 0),
        "better" TEXT CHECK ("better" IN ('up', 'down')),
        "operationalDefinition" TEXT NOT NULL,
        "collectionPlan" TEXT NOT NULL,
        "goal" DOUBLE PRECISION,
        "chartKind" TEXT NOT NULL,
        "ruleSet" TEXT NOT NULL,
        ${VERSION}
      )`,
      `CREATE INDEX "measure_project" ON "measure" ("projectId")`,
      `CREATE TABLE "cycle" (
        "id" TEXT PRIMARY KEY,
        "projectId" TEXT NOT NULL REFERENCES "project" ("id") ${DEFERRABLE},
        "rampId" TEXT NOT NULL REFERENCES "cycle" ("id") ${DEFERRABLE},
        "number" INTEGER NOT NULL CHECK ("number" >= 1),
        "buildsOnId" TEXT REFERENCES "cycle" ("id") ${DEFERRABLE},
        ${ORIGIN},
        "createdAt" TEXT NOT NULL,
        "title" TEXT NOT NULL,
        "question" TEXT NOT NULL,
        "change" TEXT NOT NULL,
        "who" TEXT NOT NULL,
        "where" TEXT NOT NULL,
        "plannedFrom" TEXT,
        "plannedTo" TEXT,
        "howMany" TEXT NOT NULL,
        "collection" TEXT NOT NULL,
        "determination" TEXT CHECK ("determination" IN ('improvement', 'research', 'exercise')),
        "approval" TEXT CHECK ("approval" IN ('on-record', 'not-needed', 'not-yet')),
        "approvalNote" TEXT NOT NULL,
        "couldHarm" TEXT CHECK ("couldHarm" IN ('yes', 'no')),
        "stopRule" TEXT NOT NULL,
        "stopMeasureId" TEXT REFERENCES "measure" ("id") ${DEFERRABLE},
        "lockedAt" TEXT,
        "lockedById" TEXT REFERENCES "person" ("id") ${DEFERRABLE},
        "ranFrom" TEXT,
        "ranTo" TEXT,
        "happened" TEXT NOT NULL,
        "wentWrong" TEXT NOT NULL,
        "surprises" TEXT NOT NULL,
        "doneAt" TEXT,
        "learned" TEXT NOT NULL,
        "predictionReview" TEXT NOT NULL,
        "studiedAt" TEXT,
        ${VERSION},
        UNIQUE ("projectId", "number"),
        CHECK (("lockedAt" IS NULL) = ("lockedById" IS NULL)),
        CHECK ("doneAt" IS NULL OR "lockedAt" IS NOT NULL),
        CHECK ("studiedAt" IS NULL OR "doneAt" IS NOT NULL)
      )`,
      `CREATE TABLE "prediction" (
        "id" TEXT PRIMARY KEY,
        "cycleId" TEXT NOT NULL REFERENCES "cycle" ("id") ${DEFERRABLE},
        "measureId" TEXT NOT NULL REFERENCES "measure" ("id") ${DEFERRABLE},
        "expected" DOUBLE PRECISION,
        "low" DOUBLE PRECISION,
        "high" DOUBLE PRECISION,
        "confidence" DOUBLE PRECISION NOT NULL CHECK ("confidence" > 0 AND "confidence" < 1),
        "why" TEXT NOT NULL,
        ${VERSION},
        UNIQUE ("cycleId", "measureId")
      )`,
      `CREATE INDEX "prediction_measure" ON "prediction" ("measureId")`,
      `CREATE TABLE "addendum" (
        "id" TEXT PRIMARY KEY,
        "cycleId" TEXT NOT NULL REFERENCES "cycle" ("id") ${DEFERRABLE},
        "predictionId" TEXT REFERENCES "prediction" ("id") ${DEFERRABLE},
        "text" TEXT NOT NULL CHECK ("text" <> ''),
        "at" TEXT NOT NULL,
        "byId" TEXT NOT NULL REFERENCES "person" ("id") ${DEFERRABLE}
      )`,
      `CREATE INDEX "addendum_cycle" ON "addendum" ("cycleId")`,
      `CREATE TABLE "trial" (
        "id" TEXT PRIMARY KEY,
        "cycleId" TEXT NOT NULL REFERENCES "cycle" ("id") ${DEFERRABLE},
        "number" INTEGER NOT NULL CHECK ("number" >= 1),
        "at" TEXT NOT NULL,
        "byId" TEXT NOT NULL REFERENCES "person" ("id") ${DEFERRABLE},
        "note" TEXT NOT NULL,
        "voidReason" TEXT,
        ${VERSION},
        UNIQUE ("cycleId", "number")
      )`,
      `CREATE TABLE "decision" (
        "id" TEXT PRIMARY KEY,
        "cycleId" TEXT NOT NULL UNIQUE REFERENCES "cycle" ("id") ${DEFERRABLE},
        "kind" TEXT NOT NULL CHECK ("kind" IN ('adopt', 'adapt', 'abandon')),
        "reason" TEXT NOT NULL CHECK ("reason" <> ''),
        "nextChange" TEXT NOT NULL,
        "at" TEXT NOT NULL,
        "byId" TEXT NOT NULL REFERENCES "person" ("id") ${DEFERRABLE}
      )`,
      `CREATE TABLE "phase" (
        "id" TEXT PRIMARY KEY,
        "measureId" TEXT NOT NULL REFERENCES "measure" ("id") ${DEFERRABLE},
        "startsAt" TEXT,
        "frozenThrough" TEXT,
        "reason" TEXT NOT NULL,
        "cycleId" TEXT REFERENCES "cycle" ("id") ${DEFERRABLE},
        ${VERSION}
      )`,
      `CREATE INDEX "phase_measure" ON "phase" ("measureId")`,
      `CREATE TABLE "annotation" (
        "id" TEXT PRIMARY KEY,
        "measureId" TEXT NOT NULL REFERENCES "measure" ("id") ${DEFERRABLE},
        "at" TEXT NOT NULL,
        "text" TEXT NOT NULL CHECK ("text" <> ''),
        ${VERSION}
      )`,
      `CREATE INDEX "annotation_measure" ON "annotation" ("measureId")`,
      `CREATE TABLE "observation" (
        "id" TEXT PRIMARY KEY,
        "measureId" TEXT NOT NULL REFERENCES "measure" ("id") ${DEFERRABLE},
        "cycleId" TEXT REFERENCES "cycle" ("id") ${DEFERRABLE},
        "trialId" TEXT REFERENCES "trial" ("id") ${DEFERRABLE},
        "at" TEXT NOT NULL,
        "value" DOUBLE PRECISION,
        "numerator" DOUBLE PRECISION CHECK ("numerator" >= 0),
        "denominator" DOUBLE PRECISION CHECK ("denominator" >= 0),
        "note" TEXT NOT NULL,
        "leftOutReason" TEXT,
        ${VERSION}
      )`,
      `CREATE INDEX "observation_measure" ON "observation" ("measureId", "at")`,
      `CREATE INDEX "observation_cycle" ON "observation" ("cycleId")`,
      `CREATE TABLE "journal" (
        "seq" INTEGER PRIMARY KEY,
        "at" TEXT NOT NULL,
        "personId" TEXT,
        "personName" TEXT NOT NULL,
        "action" TEXT NOT NULL,
        "changes" TEXT NOT NULL,
        "prevHash" TEXT NOT NULL,
        "hash" TEXT NOT NULL
      )`,
    ],
  },
  {
    id: 2,
    name: 'what suggests the size of a test',
    statements: [
      `ALTER TABLE "cycle" ADD COLUMN "belief" TEXT CHECK ("belief" IN ('low', 'high'))`,
      `ALTER TABLE "cycle" ADD COLUMN "failureCost" TEXT
        CHECK ("failureCost" IN ('small', 'large'))`,
      `ALTER TABLE "cycle" ADD COLUMN "readiness" TEXT
        CHECK ("readiness" IN ('resistant', 'indifferent', 'ready'))`,
    ],
  },
  {
    id: 3,
    name: 'what is known now about each idea',
    statements: [
      `CREATE TABLE "rampNote" (
        "id" TEXT PRIMARY KEY,
        "projectId" TEXT NOT NULL REFERENCES "project" ("id") ${DEFERRABLE},
        "rampId" TEXT NOT NULL UNIQUE REFERENCES "cycle" ("id") ${DEFERRABLE},
        "text" TEXT NOT NULL,
        ${VERSION}
      )`,
      `CREATE INDEX "ramp_note_project" ON "rampNote" ("projectId")`,
    ],
  },
  {
    id: 4,
    name: 'the live workshop',
    statements: [
      `CREATE TABLE "kit" (
        "id" TEXT PRIMARY KEY,
        "kit" TEXT NOT NULL,
        "createdById" TEXT NOT NULL REFERENCES "person" ("id") ${DEFERRABLE},
        ${VERSION}
      )`,
      `CREATE TABLE "room" (
        "id" TEXT PRIMARY KEY,
        "code" TEXT NOT NULL UNIQUE,
        "name" TEXT NOT NULL CHECK ("name" <> ''),
        "unitId" TEXT NOT NULL REFERENCES "unit" ("id") ${DEFERRABLE},
        "facilitatorId" TEXT NOT NULL REFERENCES "person" ("id") ${DEFERRABLE},
        "kit" TEXT NOT NULL,
        "settings" TEXT NOT NULL,
        "moment" TEXT NOT NULL CHECK ("moment" IN ('join', 'predict', 'running', 'compare',
          'debrief', 'wrap-up')),
        "round" INTEGER NOT NULL CHECK ("round" >= 0),
        "countdown" TEXT,
        "talkingPoint" INTEGER NOT NULL CHECK ("talkingPoint" >= 0),
        "notes" TEXT NOT NULL,
        "openedAt" TEXT NOT NULL,
        "closedAt" TEXT,
        ${VERSION}
      )`,
      `CREATE TABLE "roomTable" (
        "id" TEXT PRIMARY KEY REFERENCES "person" ("id") ${DEFERRABLE},
        "roomId" TEXT NOT NULL REFERENCES "room" ("id") ${DEFERRABLE},
        "projectId" TEXT NOT NULL UNIQUE REFERENCES "project" ("id") ${DEFERRABLE},
        "timeMeasureId" TEXT NOT NULL REFERENCES "measure" ("id") ${DEFERRABLE},
        "qualityMeasureId" TEXT NOT NULL REFERENCES "measure" ("id") ${DEFERRABLE},
        "name" TEXT NOT NULL CHECK ("name" <> ''),
        "place" INTEGER NOT NULL CHECK ("place" >= 1),
        "firstRound" INTEGER NOT NULL CHECK ("firstRound" >= 1),
        "excused" TEXT NOT NULL,
        "nudge" TEXT NOT NULL,
        "nudgedAt" TEXT,
        "removedAt" TEXT,
        ${VERSION},
        UNIQUE ("roomId", "place")
      )`,
      `CREATE TABLE "roomSeat" (
        "id" TEXT PRIMARY KEY,
        "roomId" TEXT NOT NULL REFERENCES "room" ("id") ${DEFERRABLE},
        "tableId" TEXT REFERENCES "roomTable" ("id") ${DEFERRABLE},
        "name" TEXT NOT NULL,
        "roles" TEXT NOT NULL,
        "tokenHash" TEXT NOT NULL,
        "confidenceBefore" INTEGER CHECK ("confidenceBefore" BETWEEN 0 AND 10),
        "confidenceAfter" INTEGER CHECK ("confidenceAfter" BETWEEN 0 AND 10),
        "joinedAt" TEXT NOT NULL,
        "removedAt" TEXT,
        ${VERSION}
      )`,
      `CREATE INDEX "room_seat_room" ON "roomSeat" ("roomId")`,
      `CREATE INDEX "room_seat_token" ON "roomSeat" ("tokenHash")`,
      `CREATE TABLE "roomMove" (
        "id" TEXT PRIMARY KEY,
        "roomId" TEXT NOT NULL REFERENCES "room" ("id") ${DEFERRABLE},
        "tableId" TEXT REFERENCES "roomTable" ("id") ${DEFERRABLE},
        "seatId" TEXT REFERENCES "roomSeat" ("id") ${DEFERRABLE},
        "kind" TEXT NOT NULL,
        "at" TEXT NOT NULL,
        "receivedAt" TEXT NOT NULL
      )`,
      `CREATE INDEX "room_move_table" ON "roomMove" ("tableId", "at")`,
      `CREATE TABLE "reading" (
        "id" TEXT PRIMARY KEY,
        "trialId" TEXT NOT NULL REFERENCES "trial" ("id") ${DEFERRABLE},
        "seatId" TEXT REFERENCES "roomSeat" ("id") ${DEFERRABLE},
        "by" TEXT NOT NULL,
        "seconds" DOUBLE PRECISION NOT NULL CHECK ("seconds" > 0),
        "how" TEXT NOT NULL CHECK ("how" IN ('steady-clock', 'device-clock', 'server-clock',
          'typed', 'paper')),
        "note" TEXT NOT NULL,
        "kept" INTEGER CHECK ("kept" IN (0, 1)),
        ${VERSION}
      )`,
      `CREATE INDEX "reading_trial" ON "reading" ("trialId")`,
      `CREATE TABLE "inspection" (
        "id" TEXT PRIMARY KEY,
        "trialId" TEXT NOT NULL REFERENCES "trial" ("id") ${DEFERRABLE},
        "seatId" TEXT REFERENCES "roomSeat" ("id") ${DEFERRABLE},
        "by" TEXT NOT NULL,
        "marks" TEXT NOT NULL,
        "at" TEXT NOT NULL,
        ${VERSION}
      )`,
      `CREATE INDEX "inspection_trial" ON "inspection" ("trialId")`,
    ],
  },
  {
    id: 5,
    name: 'several changes at once',
    statements: [
      `CREATE TABLE "experiment" (
        "id" TEXT PRIMARY KEY,
        "projectId" TEXT NOT NULL REFERENCES "project" ("id") ${DEFERRABLE},
        ${ORIGIN},
        "createdAt" TEXT NOT NULL,
        "title" TEXT NOT NULL,
        "question" TEXT NOT NULL,
        "measureId" TEXT REFERENCES "measure" ("id") ${DEFERRABLE},
        "response" TEXT NOT NULL,
        "responseKind" TEXT NOT NULL CHECK ("responseKind" IN ('number', 'duration', 'share')),
        "unitLabel" TEXT NOT NULL,
        "better" TEXT CHECK ("better" IN ('up', 'down')),
        "conditions" TEXT NOT NULL,
        "generators" TEXT,
        "replicates" INTEGER NOT NULL CHECK ("replicates" BETWEEN 1 AND 4),
        "centerPoints" INTEGER NOT NULL CHECK ("centerPoints" BETWEEN 0 AND 6),
        "guessedSd" DOUBLE PRECISION CHECK ("guessedSd" > 0),
        "determination" TEXT CHECK ("determination" IN ('improvement', 'research', 'exercise')),
        "approval" TEXT CHECK ("approval" IN ('on-record', 'not-needed', 'not-yet')),
        "approvalNote" TEXT NOT NULL,
        "couldHarm" TEXT CHECK ("couldHarm" IN ('yes', 'no')),
        "stopRule" TEXT NOT NULL,
        "stopMeasureId" TEXT REFERENCES "measure" ("id") ${DEFERRABLE},
        "lockedAt" TEXT,
        "lockedById" TEXT REFERENCES "person" ("id") ${DEFERRABLE},
        "seed" INTEGER CHECK ("seed" >= 0),
        "learned" TEXT NOT NULL,
        ${VERSION},
        CHECK (("lockedAt" IS NULL) = ("lockedById" IS NULL)),
        CHECK (("lockedAt" IS NULL) = ("seed" IS NULL))
      )`,
      `CREATE INDEX "experiment_project" ON "experiment" ("projectId")`,
      `CREATE TABLE "experimentFactor" (
        "id" TEXT PRIMARY KEY,
        "experimentId" TEXT NOT NULL REFERENCES "experiment" ("id") ${DEFERRABLE},
        "position" INTEGER NOT NULL CHECK ("position" >= 1),
        "name" TEXT NOT NULL,
        "low" TEXT NOT NULL,
        "high" TEXT NOT NULL,
        "middle" TEXT NOT NULL,
        "expected" DOUBLE PRECISION,
        "why" TEXT NOT NULL,
        ${VERSION},
        UNIQUE ("experimentId", "position")
      )`,
      `CREATE TABLE "experimentRun" (
        "id" TEXT PRIMARY KEY,
        "experimentId" TEXT NOT NULL REFERENCES "experiment" ("id") ${DEFERRABLE},
        "position" INTEGER NOT NULL CHECK ("position" >= 1),
        "levels" TEXT NOT NULL CHECK ("levels" <> ''),
        "response" DOUBLE PRECISION,
        "at" TEXT,
        "byId" TEXT REFERENCES "person" ("id") ${DEFERRABLE},
        "note" TEXT NOT NULL,
        "leftOutReason" TEXT,
        ${VERSION},
        UNIQUE ("experimentId", "position"),
        CHECK (("response" IS NULL) = ("at" IS NULL)),
        CHECK (("at" IS NULL) = ("byId" IS NULL))
      )`,
    ],
  },
  {
    id: 6,
    name: 'what the figures suggested when a decision was made',
    statements: [
      `ALTER TABLE "decision" ADD COLUMN "suggestedKind" TEXT
        CHECK ("suggestedKind" IN ('adopt', 'adapt', 'abandon', 'keep-collecting'))`,
      `ALTER TABLE "decision" ADD COLUMN "suggestedReasons" TEXT
        CHECK (("suggestedReasons" IS NULL) = ("suggestedKind" IS NULL))`,
      `ALTER TABLE "decision" ADD COLUMN "differsBecause" TEXT
        CHECK (("differsBecause" IS NULL) = ("suggestedKind" IS NULL))`,
    ],
  },
  {
    id: 7,
    name: 'inspections of which only the count of items right is known',
    statements: [
      `ALTER TABLE "inspection" ADD COLUMN "rightCount" INTEGER CHECK ("rightCount" >= 0)`,
    ],
  },
  {
    id: 8,
    name: 'what a phone calls a trial that another phone began',
    statements: [
      `ALTER TABLE "roomMove" ADD COLUMN "calledTrialId" TEXT`,
      `ALTER TABLE "roomMove" ADD COLUMN "trialId" TEXT
        CHECK (("trialId" IS NULL) = ("calledTrialId" IS NULL))`,
      `CREATE INDEX "room_move_called" ON "roomMove" ("calledTrialId")`,
    ],
  },
  {
    id: 9,
    name: 'numbers that let further phones in at a table',
    statements: [
      `ALTER TABLE "roomTable" ADD COLUMN "joinNumber" INTEGER
        CHECK ("joinNumber" BETWEEN 100 AND 999)`,
    ],
  },
  {
    id: 10,
    name: 'the same measure on another unit',
    statements: [
      `ALTER TABLE "measure" ADD COLUMN "unitId" TEXT REFERENCES "unit" ("id") ${DEFERRABLE}`,
      `ALTER TABLE "measure" ADD COLUMN "sameAsId" TEXT
        REFERENCES "measure" ("id") ${DEFERRABLE} CHECK ("sameAsId" <> "id")`,
      `CREATE INDEX "measure_same" ON "measure" ("sameAsId")`,
    ],
  },
]

const LATEST = MIGRATIONS.at(-1)!.id

async function applied(connection: Connection): Promise<number> {
  const { rows } = await connection.execute('SELECT MAX("id") AS "id" FROM "migration"')
  return (rows[0]?.['id'] as number | null) ?? 0
}

/** The newest migration of this database; 0 for an empty one. */
export async function schemaVersion(connection: Connection): Promise<number> {
  const { rows } = await connection.execute(
    connection.engine === 'sqlite'
      ? `SELECT 1 AS "there" FROM sqlite_master WHERE name = 'migration'`
      : `SELECT to_regclass(quote_ident(current_schema()) || '.migration') AS "there"`,
  )
  const there = rows[0]?.['there'] ?? null
  return there === null ? 0 : applied(connection)
}

/** Whether nothing is left to bring up to date. */
export async function isCurrent(connection: Connection): Promise<boolean> {
  return (await schemaVersion(connection)) === LATEST
}

/** The schema of `version` must be ours, or older. */
export function checkKnownVersion(version: number, what: string): void {
  if (version <= LATEST) return
  throw new AppError(
    'storage.newer',
    `${what} was written by a newer Pawl (schema ${version}; this one knows ${LATEST}).`,
    'Start the newer version, or restore a backup made by this one.',
    { version, known: LATEST },
  )
}

/**
 * Brings a database up to date, inside a transaction that the caller has begun and that no other
 * process can be in at the same time.
 *
 * @param withGuards `false` while whole tables are copied in; add them with `addGuards` afterwards.
 * @param through    The newest migration to apply, for a record as an earlier Pawl made it.
 * @throws AppError `storage.newer`.
 */
export async function migrate(
  connection: Connection,
  withGuards = true,
  through = LATEST,
): Promise<void> {
  await connection.execute(
    `CREATE TABLE IF NOT EXISTS "migration" (
      "id" INTEGER PRIMARY KEY, "name" TEXT NOT NULL, "at" TEXT NOT NULL)`,
  )
  const version = await applied(connection)
  checkKnownVersion(version, 'The database')
  if (version === LATEST) return
  for (const migration of MIGRATIONS.filter(({ id }) => id > version && id <= through)) {
    for (const statement of migration.statements) await connection.execute(statement)
    await connection.execute('INSERT INTO "migration" ("id", "name", "at") VALUES ($1, $2, $3)', [
      migration.id,
      migration.name,
      new Date().toISOString(),
    ])
  }
  if (withGuards) await addGuards(connection)
}

/** (Re)creates the triggers that hold the frozen parts of the record in place. */
export async function addGuards(connection: Connection): Promise<void> {
  for (const guard of guards(connection.engine)) {
    for (const statement of guard.statements) await connection.execute(statement)
  }
}

/** Names of the triggers that should be there and are not. */
export async function missingGuards(connection: Connection): Promise<string[]> {
  const { rows } = await connection.execute(
    connection.engine === 'sqlite'
      ? `SELECT name FROM sqlite_master WHERE type = 'trigger'`
      : `SELECT t.tgname AS name FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
         WHERE c.relnamespace = to_regnamespace(quote_ident(current_schema()))
         AND NOT t.tgisinternal AND t.tgenabled IN ('O', 'A')`,
  )
  const there = new Set(rows.map((row) => row['name']))
  return guards(connection.engine)
    .map(({ name }) => name)
    .filter((name) => !there.has(name))
}

/** Makes the PostgreSQL schema that everything of ours lives in. */
export async function createSchema(connection: Connection, schema: string): Promise<void> {
  await connection.execute(`CREATE SCHEMA IF NOT EXISTS ${quoted(schema)}`)
}
