import {
  type DatabaseConnection,
  type Dialect,
  type Driver,
  Kysely,
  PostgresAdapter,
  PostgresIntrospector,
  PostgresQueryCompiler,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from 'kysely'
import type { Connection } from './connection.ts'
import type { Schema } from './tables.ts'

const queries = new WeakMap<Connection, Kysely<Schema>>()
const connections = new WeakMap<Kysely<Schema>, Connection>()

/** Typed queries on a connection of ours. Transactions are `record`'s alone, so it has none. */
export function queriesOn(connection: Connection): Kysely<Schema> {
  let on = queries.get(connection)
  if (on === undefined) {
    on = new Kysely<Schema>({ dialect: dialectOf(connection) })
    queries.set(connection, on)
    connections.set(on, connection)
  }
  return on
}

/** The connection that queries go to. */
export const connectionOf = (read: Kysely<Schema>): Connection => connections.get(read)!

function dialectOf(connection: Connection): Dialect {
  const sqlite = connection.engine === 'sqlite'
  return {
    createDriver: () => driverOf(connection),
    createQueryCompiler: () => (sqlite ? new NumberedSqlite() : new PostgresQueryCompiler()),
    createAdapter: () => (sqlite ? new SqliteAdapter() : new PostgresAdapter()),
    createIntrospector: (db) =>
      sqlite ? new SqliteIntrospector(db) : new PostgresIntrospector(db),
  }
}

/** Writes placeholders as our connections take them, on either engine. */
class NumberedSqlite extends SqliteQueryCompiler {
  protected override getCurrentParameterPlaceholder(): string {
    return `$${this.numParameters}`
  }
}

function driverOf(connection: Connection): Driver {
  const one: DatabaseConnection = {
    async executeQuery<R>({ sql, parameters }: { sql: string; parameters: readonly unknown[] }) {
      const { rows, changes } = await connection.execute(sql, parameters)
      return { rows: rows as R[], numAffectedRows: BigInt(changes) }
    },
    // biome-ignore lint/correctness/useYield: part of the interface; nothing of ours streams through it
    async *streamQuery() {
      throw new Error('Streaming goes through batches by id.')
    },
  }
  const none = async () => {
    throw new Error('Writes go through record().')
  }
  return {
    async init() {},
    acquireConnection: async () => one,
    beginTransaction: none,
    commitTransaction: none,
    rollbackTransaction: none,
    async releaseConnection() {},
    async destroy() {},
  }
}
