import type { Connection, Row } from './connection.ts'
import { ALL_TABLES, batches } from './copy-tables.ts'
import { hashOf, journaled, type RowChange } from './journal.ts'
import { missingGuards } from './migrations.ts'
import { openSqlite } from './sqlite.ts'
import { JOURNAL_COLUMNS, type JournalRow } from './tables.ts'

/** One thing that is not as Pawl left it. */
interface Finding {
  /** `chain`: the journal itself. `row`: a row that differs from what the journal says. */
  readonly kind: 'chain' | 'row' | 'guard'
  /** One sentence: where, what was expected, what was found. */
  readonly text: string
  readonly seq?: number
  readonly table?: string
  readonly id?: string
  readonly column?: string
}

export interface Verification {
  readonly findings: readonly Finding[]
  /** More were found than are listed. */
  readonly more: boolean
  readonly journalRows: number
  readonly rows: number
  /** Hash of the last journal row. Kept elsewhere, it later proves that nothing was cut off the end. */
  readonly head: string
}

const FINDINGS_LISTED = 100

/**
 * Checks the record against itself: the chain of the journal, row by row; then the journal replayed
 * from its beginning against every row of every table, so that a change made behind Pawl's back is
 * found and named; then the triggers that guard it.
 *
 * What it cannot find by itself: a journal cut off at its end together with what those rows did.
 * Compare the head with one that was written down elsewhere.
 *
 * @param connection Inside a transaction that sees one moment. Rows are read in batches.
 */
export async function verify(connection: Connection): Promise<Verification> {
  const findings: Finding[] = []
  let more = false
  const report = (finding: Finding) => {
    if (findings.length < FINDINGS_LISTED) findings.push(finding)
    else more = true
  }
  const replay = openReplay()
  try {
    const { count, head } = await checkChain(connection, report, replay)
    const rows = await checkRows(connection, report, replay)
    for (const name of await missingGuards(connection))
      report({ kind: 'guard', text: `The trigger ${name}, which guards the record, is missing.` })
    return { findings, more, journalRows: count, rows, head }
  } finally {
    replay.close()
  }
}

type Report = (finding: Finding) => void

async function checkChain(
  connection: Connection,
  report: Report,
  replay: Replay,
): Promise<{ count: number; head: string }> {
  let count = 0
  let seq = 0
  let head = ''
  for await (const rows of batches(connection, 'journal', JOURNAL_COLUMNS, 'seq')) {
    for (const raw of rows) {
      const row = raw as unknown as JournalRow
      count++
      const broken = (expected: string, found: string) =>
        report({
          kind: 'chain',
          seq: row.seq,
          text: `Journal row ${row.seq}: expected ${expected}, found ${found}.`,
        })
      if (row.seq !== seq + 1) broken(`row ${seq + 1} next`, `row ${row.seq}`)
      if (row.prevHash !== head)
        broken(`the hash of the row before, ${short(head)}`, short(row.prevHash))
      const hash = hashOf(row)
      if (row.hash !== hash) broken(`the hash of its own text, ${short(hash)}`, short(row.hash))
      replayRow(row, replay, report)
      seq = row.seq
      head = row.hash
    }
  }
  return { count, head }
}

const short = (hash: string) => (hash === '' ? 'none' : `${hash.slice(0, 16)}…`)

function replayRow(row: JournalRow, replay: Replay, report: Report): void {
  let changes: RowChange[]
  try {
    changes = JSON.parse(row.changes) as RowChange[]
  } catch {
    report({
      kind: 'chain',
      seq: row.seq,
      text: `Journal row ${row.seq}: expected a list of changes as JSON, found text that is none.`,
    })
    return
  }
  for (const { table, id, after } of changes) {
    if (after === null) replay.remove(table, id)
    else replay.put(table, id, { ...replay.get(table, id), ...after })
  }
}

async function checkRows(connection: Connection, report: Report, replay: Replay): Promise<number> {
  let count = 0
  for (const { table, columns, key } of ALL_TABLES) {
    if (key === 'seq') continue
    for await (const rows of batches(connection, table, columns, key)) {
      for (const row of rows) {
        count++
        const id = String(row['id'])
        const expected = replay.get(table, id)
        if (expected === null) {
          report({
            kind: 'row',
            table,
            id,
            text: `${table} ${id}: the journal does not know this row.`,
          })
          continue
        }
        for (const column of columns) compare(table, id, column, expected, row, report)
        replay.remove(table, id)
      }
    }
  }
  for (const { table, id } of replay.rest(FINDINGS_LISTED + 1))
    report({
      kind: 'row',
      table,
      id,
      text: `${table} ${id}: the journal has this row, the table does not.`,
    })
  return count
}

function compare(
  table: string,
  id: string,
  column: string,
  expected: Row,
  row: Row,
  report: Report,
): void {
  const wanted = JSON.stringify(expected[column] ?? null)
  const found = JSON.stringify(journaled(column, row[column] ?? null))
  if (wanted === found) return
  report({
    kind: 'row',
    table,
    id,
    column,
    text: `${table} ${id}, column ${column}: the journal says ${excerpt(wanted)}, the table says ${excerpt(found)}.`,
  })
}

const excerpt = (text: string) => (text.length > 80 ? `${text.slice(0, 80)}…` : text)

/** What the journal says every row should be. On disk, so that a large record needs little memory. */
interface Replay {
  get(table: string, id: string): Row | null
  put(table: string, id: string, row: Row): void
  remove(table: string, id: string): void
  rest(limit: number): { table: string; id: string }[]
  close(): void
}

function openReplay(): Replay {
  const { handle, close } = openSqlite('')
  handle.exec(
    'CREATE TABLE replay (tab TEXT, id TEXT, row TEXT, PRIMARY KEY (tab, id)) WITHOUT ROWID; BEGIN',
  )
  const get = handle.prepare('SELECT row FROM replay WHERE tab = ? AND id = ?')
  const put = handle.prepare('INSERT OR REPLACE INTO replay VALUES (?, ?, ?)')
  const remove = handle.prepare('DELETE FROM replay WHERE tab = ? AND id = ?')
  const rest = handle.prepare('SELECT tab, id FROM replay ORDER BY tab, id LIMIT ?')
  return {
    get(table, id) {
      const found = get.get(table, id)
      return found === undefined ? null : (JSON.parse(found['row'] as string) as Row)
    },
    put(table, id, row) {
      put.run(table, id, JSON.stringify(row))
    },
    remove(table, id) {
      remove.run(table, id)
    },
    rest: (limit) =>
      rest.all(limit).map((row) => ({ table: row['tab'] as string, id: row['id'] as string })),
    close,
  }
}
