import type { TableName } from './tables.ts'

type Event = 'INSERT' | 'UPDATE' | 'DELETE'

export interface Rule {
  readonly name: string
  readonly table: TableName | 'journal'
  readonly event: Event
  /** When to refuse; `null`: always. `{cycle}` and the like stand for the table with its schema. */
  readonly when: string | null
  readonly message: string
}

/** Whether a row of a cycle, called `c`, is not part of the invented example. */
export const OWN = `c."origin" <> 'example'`

/** Whether one of these columns is about to change. */
export const differs = (columns: readonly string[]) =>
  columns.map((column) => `OLD."${column}" IS DISTINCT FROM NEW."${column}"`).join(' OR ')
