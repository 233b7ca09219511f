export type Engine = 'sqlite' | 'postgres'

/** A value a column can hold. */
export type Cell = string | number | null
export type Row = Record<string, Cell>

export interface Result {
  readonly rows: Row[]
  readonly changes: number
}

/** One open connection. Statements are written with `$1`, `$2` … in order, each used once. */
export interface Connection {
  readonly engine: Engine
  execute(sql: string, parameters?: readonly unknown[]): Promise<Result>
}

/** The list `$1, $2, …, $n`. */
export function placeholders(n: number): string {
  return Array.from({ length: n }, (_, i) => `$${i + 1}`).join(', ')
}

/** A column or table name as both engines take it. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`
}
