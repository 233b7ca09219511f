import type { Compilable, Kysely } from 'kysely'
import { connectionOf } from './dialect.ts'
import type { Schema } from './tables.ts'

interface Written {
  readonly sql: string
  readonly parameters: readonly unknown[]
}
const known = new Map<string, Written>()

/**
 * Asks a query that is asked all the time. It is put together and written out once, and then goes
 * straight to the connection: the text is the same for both engines, and only its values change.
 *
 * @param key   Names the query; each place in the source has a key of its own.
 * @param build The query, made with stand-ins for the values, each of which must stand in it once.
 */
export async function prepared<T>(
  read: Kysely<Schema>,
  key: string,
  values: readonly (string | number)[],
  build: (...values: never[]) => Compilable<T>,
): Promise<T[]> {
  let query = known.get(key)
  if (query === undefined) {
    query = build(...(values.map((_, i) => standIn(i)) as never[])).compile()
    known.set(key, query)
  }
  const parameters = query.parameters.map((given) => {
    const i = STAND_INS.indexOf(given as string)
    return i === -1 ? given : values[i]
  })
  return (await connectionOf(read).execute(query.sql, parameters)).rows as T[]
}

/** Each stands for a value until there is one; no value is like them. */
const STAND_INS = ['\u0000first', '\u0000second', '\u0000third']
const standIn = (i: number) => STAND_INS[i]!
