import type { Engine } from './connection.ts'
import type { Rule } from './guard-rule.ts'
import { RULES, UNEMPTIED } from './guard-rules.ts'

/**
 * Triggers that keep what must not change from changing, whoever asks: the journal, locked plans
 * and predictions, decisions, addenda, and where a record came from. Rows of the invented example
 * may be deleted, so that it can be taken out again, but never updated.
 */
export interface Guard {
  readonly name: string
  readonly statements: readonly string[]
}

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
