import { EXPERIMENT_RULES } from './experiment-guard-rules.ts'
import { differs, OWN, type Rule } from './guard-rule.ts'
import { COLUMNS } from './tables.ts'
import { WORKSHOP_RULES } from './workshop-guard-rules.ts'

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

const cycleIs = (row: 'OLD' | 'NEW', condition: string) =>
  `EXISTS (SELECT 1 FROM {cycle} c WHERE c."id" = ${row}."cycleId" AND ${condition})`
const LOCKED = 'c."lockedAt" IS NOT NULL'
const LOCKED_OWN = `${LOCKED} AND c."origin" <> 'example'`

const ORIGINATED = ['unit', 'person', 'project', 'cycle', 'experiment'] as const

/** Every rule, in the order in which its trigger is made. */
export const RULES: readonly Rule[] = [
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
  // A measure is repeated from one place only, within its own project.
  ...(['INSERT', 'UPDATE'] as const).map(
    (event): Rule => ({
      name: `measure_same_${event.toLowerCase()}`,
      table: 'measure',
      event,
      when: `(NEW."sameAsId" IS NOT NULL AND NOT EXISTS (SELECT 1 FROM {measure} m
        WHERE m."id" = NEW."sameAsId" AND m."projectId" = NEW."projectId"
        AND m."sameAsId" IS NULL AND m."id" <> NEW."id"))
        OR (NEW."sameAsId" IS NOT NULL AND EXISTS (SELECT 1 FROM {measure} m
        WHERE m."sameAsId" = NEW."id"))`,
      message: 'a measure repeats one of its own project that repeats none itself',
    }),
  ),
  ...WORKSHOP_RULES,
  ...EXPERIMENT_RULES,
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

/** Tables that PostgreSQL must not empty without looking at their rows. */
export const UNEMPTIED = [
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
