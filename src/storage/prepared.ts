import type { Compilable, CompiledQuery, Kysely } from 'kysely'
import type { Schema } from './tables.ts'

const known = new Map<string, CompiledQuery>()

/**
 * Asks a query that is asked all the time. It is put together and written out once; the text is the
 * same for both engines, and only its value changes.
 *
 * @param key   Names the query; each place in the source has a key of its own.
 * @param build The query, made with the value it gets the first time, which must stand in it once.
 */
export async function prepared<T>(
  read: Kysely<Schema>,
  key: string,
  value: string | number,
  build: (value: never) => Compilable<T>,
): Promise<T[]> {
  let query = known.get(key)
  if (query === undefined) {
    query = build(MARK as never).compile()
    known.set(key, query)
  }
  const parameters = query.parameters.map((given) => (given === MARK ? value : given))
  return (await read.executeQuery<T>({ ...query, parameters } as CompiledQuery<T>)).rows
}

/** Stands for the value until there is one; no value is like it. */
const MARK = '\u0000value'
