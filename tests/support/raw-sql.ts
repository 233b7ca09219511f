import { DatabaseSync } from 'node:sqlite'
import pg from 'pg'
import { type Place, sqliteFile } from '../../src/storage/database.ts'

export interface RawSql {
  /** Runs statements past Pawl, as somebody with the database's own tools would. */
  run(sql: string): Promise<void>
  close(): Promise<void>
}

/** A plain connection to the database of a place, with none of Pawl in between. */
export async function rawSql(place: Place): Promise<RawSql> {
  if (place.databaseUrl === undefined) {
    const handle = new DatabaseSync(sqliteFile(place.dataDir), { timeout: 5000 })
    return {
      run: async (sql) => handle.exec(sql),
      close: async () => handle.close(),
    }
  }
  const client = new pg.Client({ connectionString: place.databaseUrl })
  await client.connect()
  await client.query('SET search_path TO pawl')
  return {
    run: async (sql) => {
      await client.query(sql)
    },
    close: () => client.end(),
  }
}
