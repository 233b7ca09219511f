import type { Pool, PoolClient } from 'pg'
import type { Connection, Result, Row } from './connection.ts'
import { quoted } from './connection.ts'
import { reached } from './driver-errors.ts'

export const DEFAULT_SCHEMA = 'pawl'
/** How a server of ours is recognized among the connections of a database. */
export const SERVER_NAME = 'pawl'

export interface PostgresPool extends Connection {
  readonly engine: 'postgres'
  readonly schema: string
  readonly pool: Pool
  /** One connection for several statements; given back when `work` ends, dropped if it fails. */
  use<T>(work: (connection: Connection) => Promise<T>): Promise<T>
  close(): Promise<void>
}

/** Opens a pool on `url`; everything of ours lives in one schema, so that it can be moved aside. */
export async function openPostgres(
  url: string,
  { schema = DEFAULT_SCHEMA, name = SERVER_NAME, size = 8 } = {},
): Promise<PostgresPool> {
  const { default: pg } = await import('pg')
  const numbers = new Map<number, (text: string) => number>([[20, Number]])
  const pool = new pg.Pool({
    connectionString: url,
    max: size,
    application_name: name,
    types: {
      getTypeParser: ((oid: number, format: 'text' | 'binary') =>
        numbers.get(oid) ?? pg.types.getTypeParser(oid, format as 'text')) as never,
    },
    onConnect: async (client: PoolClient) => {
      await client.query(`SET search_path TO ${quoted(schema)}`)
    },
  } as unknown as ConstructorParameters<typeof pg.Pool>[0])
  // A connection lost while idle is replaced by the next query; without a listener it would end us.
  pool.on('error', () => {})

  const names = new Map<string, string>()
  /** Named statements are planned once per connection. */
  function nameOf(sql: string): string | undefined {
    const known = names.get(sql)
    if (known !== undefined) return known
    if (names.size >= 400) return undefined
    const made = `s${names.size + 1}`
    names.set(sql, made)
    return made
  }

  async function run(
    target: Pool | PoolClient,
    sql: string,
    parameters: readonly unknown[] = [],
  ): Promise<Result> {
    const named = parameters.length > 0 ? nameOf(sql) : undefined
    const query = {
      ...(named === undefined ? {} : { name: named }),
      text: sql,
      values: parameters as unknown[],
    }
    const result = await target.query(query).catch((error: unknown) => {
      throw reached(error)
    })
    return { rows: result.rows as Row[], changes: result.rowCount ?? 0 }
  }

  return {
    engine: 'postgres',
    schema,
    pool,
    execute: (sql, parameters) => run(pool, sql, parameters),
    async use(work) {
      const client = await pool.connect().catch((error: unknown) => {
        throw reached(error)
      })
      let failure: Error | undefined
      try {
        return await work({
          engine: 'postgres',
          execute: (sql, parameters) => run(client, sql, parameters),
        })
      } catch (error) {
        failure = error as Error
        throw error
      } finally {
        client.release(failure)
      }
    },
    close: () => pool.end(),
  }
}
