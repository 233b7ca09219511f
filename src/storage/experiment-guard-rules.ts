import { differs, type Rule } from './guard-rule.ts'
import { COLUMNS } from './tables.ts'

/** Columns of a planned experiment and of its runs that stay open after the lock. */
const OPEN_OF_EXPERIMENT: ReadonlySet<string> = new Set(['learned', 'version'])
const FROZEN_EXPERIMENT = COLUMNS.experiment.filter((column) => !OPEN_OF_EXPERIMENT.has(column))
const FROZEN_RUN = ['id', 'experimentId', 'position', 'levels'] as const

const experimentIs = (row: 'OLD' | 'NEW', condition: string) =>
  `EXISTS (SELECT 1 FROM {experiment} e WHERE e."id" = ${row}."experimentId" AND ${condition})`
const DRAWN = 'e."lockedAt" IS NOT NULL'
const DRAWN_OWN = `${DRAWN} AND e."origin" <> 'example'`

/** A locked experiment keeps its plan, its changes and the order of its runs. */
export const EXPERIMENT_RULES: readonly Rule[] = [
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
]
