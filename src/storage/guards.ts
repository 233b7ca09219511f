import type { Engine } from './connection.ts'
import { COLUMNS, type TableName } from './tables.ts'

/**
 * Triggers that keep what must not change from changing, whoever asks: the journal, locked plans
 * and predictions, decisions, addenda, and where a record came from. Rows of the invented example
 * may be deleted, so that it can be taken out again, but never updated.
 */
export interface Guard {
  readonly name: string
  readonly statements: readonly string[]
}

/** Columns of a cycle that stay open after the lock. Every other one is frozen by it. */
const OPEN_AFTER_LOCK: ReadonlySet<string> = new Set([
  'ranFrom',
  'ranTo',
  'happened',
  'wentWrong',
  'surprises',
  'doneAt',
  'learned',
  'predictionReview',
  'studiedAt',
  'version',
])
const FROZEN_BY_LOCK = COLUMNS.cycle.filter((column) => !OPEN_AFTER_LOCK.has(column))

/** Columns of a planned experiment and of its runs that stay open after the lock. */
const OPEN_OF_EXPERIMENT: ReadonlySet<string> = new Set(['learned', 'version'])
const FROZEN_EXPERIMENT = COLUMNS.experiment.filter((column) => !OPEN_OF_EXPERIMENT.has(column))
const FROZEN_RUN = ['id', 'experimentId', 'position', 'levels'] as const

type Event = 'INSERT' | 'UPDATE' | 'DELETE'

interface Rule {
  readonly name: string
  readonly table: TableName | 'journal'
  readonly event: Event
  /** When to refuse; `null`: always. `{cycle}` and the like stand for the table with its schema. */
  readonly when: string | null
  readonly message: string
}

const cycleIs = (row: 'OLD' | 'NEW', condition: string) =>
  `EXISTS (SELECT 1 FROM {cycle} c WHERE c."id" = ${row}."cycleId" AND ${condition})`
const LOCKED = 'c."lockedAt" IS NOT NULL'
const LOCKED_OWN = `${LOCKED} AND c."origin" <> 'example'`
const OWN = `c."origin" <> 'example'`

const differs = (columns: readonly string[]) =>
  columns.map((column) => `OLD."${column}" IS DISTINCT FROM NEW."${column}"`).join(' OR ')

const experimentIs = (row: 'OLD' | 'NEW', condition: string) =>
  `EXISTS (SELECT 1 FROM {experiment} e WHERE e."id" = ${row}."experimentId" AND ${condition})`
const DRAWN = 'e."lockedAt" IS NOT NULL'
const DRAWN_OWN = `${DRAWN} AND e."origin" <> 'example'`

const ORIGINATED = ['unit', 'person', 'project', 'cycle', 'experiment'] as const

const RULES: readonly Rule[] = [
  {
    name: 'journal_next',
    table: 'journal',
    event: 'INSERT',
    when: `NEW."seq" <> (SELECT COALESCE(MAX("seq"), 0) + 1 FROM {journal})
      OR NEW."prevHash" <> COALESCE((SELECT "hash" FROM {journal} ORDER BY "seq" DESC LIMIT 1), '')`,
    message: 'a journal row must follow the last one',
  },
  {
    name: 'journal_no_update',
    table: 'journal',
    event: 'UPDATE',
    when: null,
    message: 'the journal cannot be changed',
  },
  {
    name: 'journal_no_delete',
    table: 'journal',
    event: 'DELETE',
    when: null,
    message: 'the journal cannot be shortened',
  },
  {
    name: 'prediction_no_late_insert',
    table: 'prediction',
    event: 'INSERT',
    when: cycleIs('NEW', LOCKED),
    message: 'the predictions of a locked test are closed',
  },
  {
    name: 'prediction_no_late_update',
    table: 'prediction',
    event: 'UPDATE',
    when: `${cycleIs('OLD', LOCKED)} OR ${cycleIs('NEW', LOCKED)}`,
    message: 'a locked prediction cannot be changed',
  },
  {
    name: 'prediction_no_late_delete',
    table: 'prediction',
    event: 'DELETE',
    when: cycleIs('OLD', LOCKED_OWN),
    message: 'a locked prediction cannot be deleted',
  },
  {
    name: 'cycle_frozen_plan',
    table: 'cycle',
    event: 'UPDATE',
    when: `OLD."lockedAt" IS NOT NULL AND (${differs(FROZEN_BY_LOCK)})`,
    message: 'the plan of a locked test cannot be changed',
  },
  // A draft may be half filled in; what is locked may not.
  {
    name: 'cycle_lock_whole',
    table: 'cycle',
    event: 'UPDATE',
    when: `OLD."lockedAt" IS NULL AND NEW."lockedAt" IS NOT NULL AND (
      NOT EXISTS (SELECT 1 FROM {prediction} p WHERE p."cycleId" = NEW."id")
      OR EXISTS (SELECT 1 FROM {prediction} p WHERE p."cycleId" = NEW."id" AND NOT COALESCE(
        p."low" <= p."expected" AND p."expected" <= p."high", 1 = 0)))`,
    message: 'a test cannot be locked without a whole prediction',
  },
  {
    name: 'cycle_begins_unlocked',
    table: 'cycle',
    event: 'INSERT',
    when: `NEW."lockedAt" IS NOT NULL`,
    message: 'a test begins unlocked',
  },
  {
    name: 'cycle_no_delete_locked',
    table: 'cycle',
    event: 'DELETE',
    when: `OLD."lockedAt" IS NOT NULL AND OLD."origin" <> 'example'`,
    message: 'a locked test cannot be deleted',
  },
  // SQLite's INSERT OR REPLACE takes rows away without asking the delete triggers.
  {
    name: 'cycle_no_replace',
    table: 'cycle',
    event: 'INSERT',
    when: `EXISTS (SELECT 1 FROM {cycle} c WHERE ${LOCKED} AND (c."id" = NEW."id"
      OR (c."projectId" = NEW."projectId" AND c."number" = NEW."number")))`,
    message: 'a locked test cannot be replaced',
  },
  {
    name: 'prediction_no_replace',
    table: 'prediction',
    event: 'INSERT',
    when: `EXISTS (SELECT 1 FROM {prediction} p JOIN {cycle} c ON c."id" = p."cycleId"
      WHERE p."id" = NEW."id" AND ${LOCKED})`,
    message: 'a locked prediction cannot be replaced',
  },
  ...(['addendum', 'decision'] as const).flatMap((table): Rule[] => [
    {
      name: `${table}_no_update`,
      table,
      event: 'UPDATE',
      when: null,
      message: `a ${table} cannot be changed`,
    },
    {
      name: `${table}_no_delete`,
      table,
      event: 'DELETE',
      when: cycleIs('OLD', OWN),
      message: `a ${table} cannot be deleted`,
    },
    {
      name: `${table}_no_replace`,
      table,
      event: 'INSERT',
      when: `EXISTS (SELECT 1 FROM {${table}} x WHERE x."id" = NEW."id"
        ${table === 'decision' ? 'OR x."cycleId" = NEW."cycleId"' : ''})`,
      message: `a ${table} cannot be replaced`,
    },
  ]),
  ...(['reading', 'inspection'] as const).flatMap((table): Rule[] => [
    {
      name: `${table}_no_delete`,
      table,
      event: 'DELETE',
      when: `EXISTS (SELECT 1 FROM {trial} t JOIN {cycle} c ON c."id" = t."cycleId"
        WHERE t."id" = OLD."trialId" AND ${OWN})`,
      message: `${table === 'reading' ? 'a reading' : 'an inspection'} cannot be deleted`,
    },
    {
      name: `${table}_no_replace`,
      table,
      event: 'INSERT',
      when: `EXISTS (SELECT 1 FROM {${table}} x WHERE x."id" = NEW."id")`,
      message: `${table === 'reading' ? 'a reading' : 'an inspection'} cannot be replaced`,
    },
  ]),
  {
    name: 'reading_fixed',
    table: 'reading',
    event: 'UPDATE',
    when: differs(['trialId', 'seatId', 'by', 'seconds', 'how', 'note']),
    message: 'what a timer read cannot be changed',
  },
  {
    name: 'inspection_fixed',
    table: 'inspection',
    event: 'UPDATE',
    when: differs(['trialId', 'seatId']),
    message: 'whose inspection it is cannot be changed',
  },
  {
    name: 'room_move_no_update',
    table: 'roomMove',
    event: 'UPDATE',
    when: null,
    message: 'a move cannot be changed',
  },
  {
    name: 'room_move_no_delete',
    table: 'roomMove',
    event: 'DELETE',
    when: `EXISTS (SELECT 1 FROM {room} r JOIN {unit} u ON u."id" = r."unitId"
      WHERE r."id" = OLD."roomId" AND u."origin" <> 'example')`,
    message: 'a move cannot be deleted',
  },
  {
    name: 'room_move_no_replace',
    table: 'roomMove',
    event: 'INSERT',
    when: `EXISTS (SELECT 1 FROM {roomMove} x WHERE x."id" = NEW."id")`,
    message: 'a move cannot be replaced',
  },
  {
    name: 'experiment_begins_unlocked',
    table: 'experiment',
    event: 'INSERT',
    when: `NEW."lockedAt" IS NOT NULL`,
    message: 'a planned experiment begins unlocked',
  },
  {
    name: 'experiment_frozen_plan',
    table: 'experiment',
    event: 'UPDATE',
    when: `OLD."lockedAt" IS NOT NULL AND (${differs(FROZEN_EXPERIMENT)})`,
    message: 'the plan of a locked experiment cannot be changed',
  },
  // Two changes at least, each with its prediction, and the runs already in their order.
  {
    name: 'experiment_lock_whole',
    table: 'experiment',
    event: 'UPDATE',
    when: `OLD."lockedAt" IS NULL AND NEW."lockedAt" IS NOT NULL AND (
      (SELECT COUNT(*) FROM {experimentFactor} f WHERE f."experimentId" = NEW."id") < 2
      OR EXISTS (SELECT 1 FROM {experimentFactor} f
        WHERE f."experimentId" = NEW."id" AND f."expected" IS NULL)
      OR NOT EXISTS (SELECT 1 FROM {experimentRun} r WHERE r."experimentId" = NEW."id"))`,
    message: 'an experiment cannot be locked without its predictions and runs',
  },
  {
    name: 'experiment_no_delete_locked',
    table: 'experiment',
    event: 'DELETE',
    when: `OLD."lockedAt" IS NOT NULL AND OLD."origin" <> 'example'`,
    message: 'a locked experiment cannot be deleted',
  },
  {
    name: 'experiment_no_replace',
    table: 'experiment',
    event: 'INSERT',
    when: `EXISTS (SELECT 1 FROM {experiment} e WHERE ${DRAWN} AND e."id" = NEW."id")`,
    message: 'a locked experiment cannot be replaced',
  },
  ...(['experimentFactor', 'experimentRun'] as const).flatMap((table): Rule[] => [
    {
      name: `${table}_no_late_insert`,
      table,
      event: 'INSERT',
      when: experimentIs('NEW', DRAWN),
      message: 'the changes and runs of a locked experiment are closed',
    },
    {
      name: `${table}_no_late_delete`,
      table,
      event: 'DELETE',
      when: experimentIs('OLD', DRAWN_OWN),
      message: 'a part of a locked experiment cannot be deleted',
    },
    {
      name: `${table}_no_replace`,
      table,
      event: 'INSERT',
      when: `EXISTS (SELECT 1 FROM {${table}} x JOIN {experiment} e ON e."id" = x."experimentId"
        WHERE x."id" = NEW."id" AND ${DRAWN})`,
      message: 'a part of a locked experiment cannot be replaced',
    },
  ]),
  {
    name: 'experimentFactor_no_late_update',
    table: 'experimentFactor',
    event: 'UPDATE',
    when: `${experimentIs('OLD', DRAWN)} OR ${experimentIs('NEW', DRAWN)}`,
    message: 'a locked prediction cannot be changed',
  },
  {
    name: 'experimentRun_fixed_order',
    table: 'experimentRun',
    event: 'UPDATE',
    when: differs(FROZEN_RUN),
    message: 'the levels and the order of a run cannot be changed',
  },
  {
    name: 'experimentRun_begins_empty',
    table: 'experimentRun',
    event: 'INSERT',
    when: `NEW."response" IS NOT NULL`,
    message: 'a run begins without a response',
  },
  {
    name: 'experimentRun_no_early_response',
    table: 'experimentRun',
    event: 'UPDATE',
    when: `NEW."response" IS NOT NULL AND ${experimentIs('NEW', 'e."lockedAt" IS NULL')}`,
    message: 'a response comes after the lock',
  },
  ...ORIGINATED.map(
    (table): Rule => ({
      name: `${table}_fixed_origin`,
      table,
      event: 'UPDATE',
      when: `OLD."origin" <> NEW."origin"`,
      message: 'where a record came from cannot be changed',
    }),
  ),
]

const literal = (text: string) => `'${text.replaceAll("'", "''")}'`

function onSqlite({ name, table, event, when, message }: Rule): Guard {
  const condition = when === null ? '' : `WHEN ${when.replace(/\{(\w+)\}/g, '"$1"')}`
  return {
    name,
    statements: [
      `DROP TRIGGER IF EXISTS "${name}"`,
      `CREATE TRIGGER "${name}" BEFORE ${event} ON "${table}" ${condition}
       BEGIN SELECT RAISE(ABORT, ${literal(message)}); END`,
    ],
  }
}

/** The function finds tables beside its own one, so a schema can be renamed as a whole. */
function onPostgres({ name, table, event, when, message }: Rule): Guard {
  const row = event === 'DELETE' ? 'OLD' : 'NEW'
  const raise = `RAISE EXCEPTION USING ERRCODE = 'P0001', MESSAGE = ${literal(message)};`
  const body =
    when === null
      ? raise
      : when.includes('{')
        ? `EXECUTE format(${literal(
            `SELECT ${when
              .replaceAll('%', '%%')
              .replace(/\{(\w+)\}/g, '%1$$I."$1"')
              .replace(/\bOLD\."/g, '($1)."')
              .replace(/\bNEW\."/g, '($2)."')}`,
          )}, TG_TABLE_SCHEMA) INTO refused USING ${event === 'INSERT' ? 'NULL::text' : 'OLD'}, ${
            event === 'DELETE' ? 'NULL::text' : 'NEW'
          }; IF refused THEN ${raise} END IF;`
        : `IF ${when} THEN ${raise} END IF;`
  return {
    name,
    statements: [
      `CREATE OR REPLACE FUNCTION "${name}"() RETURNS trigger LANGUAGE plpgsql AS $guard$
       DECLARE refused boolean; BEGIN ${body} RETURN ${row}; END $guard$`,
      `DROP TRIGGER IF EXISTS "${name}" ON "${table}"`,
      `CREATE TRIGGER "${name}" BEFORE ${event} ON "${table}"
       FOR EACH ROW EXECUTE FUNCTION "${name}"()`,
    ],
  }
}

const UNEMPTIED = [
  'journal',
  'cycle',
  'prediction',
  'addendum',
  'decision',
  'roomMove',
  'reading',
  'inspection',
  'experiment',
  'experimentFactor',
  'experimentRun',
] as const

/** PostgreSQL can empty a table without looking at its rows. */
function noTruncate(table: string): Guard {
  const name = `${table}_no_truncate`
  return {
    name,
    statements: [
      `CREATE OR REPLACE FUNCTION "${name}"() RETURNS trigger LANGUAGE plpgsql AS $guard$
       BEGIN RAISE EXCEPTION USING ERRCODE = 'P0001', MESSAGE = 'the ${table} cannot be emptied';
       END $guard$`,
      `DROP TRIGGER IF EXISTS "${name}" ON "${table}"`,
      `CREATE TRIGGER "${name}" BEFORE TRUNCATE ON "${table}"
       FOR EACH STATEMENT EXECUTE FUNCTION "${name}"()`,
    ],
  }
}

export function guards(engine: Engine): Guard[] {
  if (engine === 'sqlite') return RULES.map(onSqlite)
  return [...RULES.map(onPostgres), ...UNEMPTIED.map(noTruncate)]
}
