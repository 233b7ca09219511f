import { CsvError, parse } from 'csv-parse/sync'

/** What keeps a text from being read at all. */
export interface TextProblem {
  readonly row: number
  readonly code: string
  readonly message: string
}

/** One line of a table. `line` counts from 1 in the text as it was given. */
export interface TableRecord {
  readonly line: number
  readonly cells: readonly string[]
}

export type Delimiter = ',' | ';' | '\t'

/** Longest text and longest line taken, in characters. */
const MOST_CHARACTERS = 20_000_000
const LONGEST_LINE = 100_000

/** Binary files are not text: a spreadsheet or a picture has these everywhere. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_TEXT = /[\u0000-\u0008\u000e-\u001f\ufffd]/

/**
 * Lines and cells of delimited text: quotes doubled inside quotes, any line ending, byte order mark
 * and empty lines skipped.
 *
 * @returns Records, or the one thing that keeps the text from being read.
 */
export function recordsOf(
  text: string,
  delimiter: Delimiter,
): { readonly records: readonly TableRecord[]; readonly issue: TextProblem | null } {
  const failed = (row: number, code: string, message: string) => ({
    records: [],
    issue: { row, code, message },
  })
  if (text.length > MOST_CHARACTERS) {
    return failed(
      1,
      'import.too_long',
      `The text has ${text.length.toLocaleString('en-GB')} characters, expected at most ${MOST_CHARACTERS.toLocaleString('en-GB')}. Import it in parts.`,
    )
  }
  const plain = text.replace(/^\ufeff/, '').replace(/\r\n?/g, '\n')
  const odd = NOT_TEXT.exec(plain)
  if (odd !== null) {
    return failed(
      lineAt(plain, odd.index),
      'import.not_text',
      'This is not plain text, expected comma-, semicolon- or tab-separated values in UTF-8. Save a spreadsheet as CSV (UTF-8).',
    )
  }
  try {
    // `info` adds the number of the line each record ends on; records begin where the last ended.
    const parsed = parse(plain, {
      delimiter,
      record_delimiter: '\n',
      relax_column_count: true,
      info: true,
      max_record_size: LONGEST_LINE,
    }) as unknown as { record: string[]; info: { lines: number } }[]
    const records: TableRecord[] = []
    let line = 1
    for (const { record } of parsed) {
      const cells = record.map((cell) => cell.trim())
      if (cells.some((cell) => cell !== '')) records.push({ line, cells })
      line += 1 + record.reduce((sum, cell) => sum + countLineEnds(cell), 0)
    }
    return { records, issue: null }
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    const at = typeof error['lines'] === 'number' ? error['lines'] : 1
    const total = lineAt(plain, plain.length)
    const line = Math.min(Math.max(1, at), total)
    if (error.code === 'CSV_MAX_RECORD_SIZE') {
      return failed(
        line,
        'import.line_too_long',
        `Line ${line} has more than ${LONGEST_LINE.toLocaleString('en-GB')} characters, expected one row of a table. A quotation mark that is never closed does this too.`,
      )
    }
    return failed(
      line,
      'import.bad_quotes',
      `The quotation marks at or before line ${line} do not match, expected a closing " straight before the next ${nameOf(delimiter)}. Write " inside a quoted cell as "".`,
    )
  }
}

/** What a delimiter is called. */
function nameOf(delimiter: Delimiter): string {
  return delimiter === ',' ? 'comma' : delimiter === ';' ? 'semicolon' : 'tab'
}

function lineAt(text: string, index: number): number {
  let line = 1
  for (let i = text.indexOf('\n'); i !== -1 && i < index; i = text.indexOf('\n', i + 1)) line++
  return line
}

function countLineEnds(cell: string): number {
  let n = 0
  for (let i = cell.indexOf('\n'); i !== -1; i = cell.indexOf('\n', i + 1)) n++
  return n
}

/** Lines looked at to find the delimiter. */
const SAMPLE = 30

/**
 * The delimiter that most lines have equally often; pasted spreadsheet cells have tabs, and files
 * with decimal commas semicolons, so these are preferred where two fit equally.
 */
export function delimiterOf(text: string): Delimiter {
  const lines = text.slice(0, 200_000).split(/\r\n?|\n/, SAMPLE * 2)
  const sample = lines.filter((line) => line.trim() !== '').slice(0, SAMPLE)
  let best: Delimiter = ','
  let bestShare = 0
  for (const delimiter of ['\t', ';', ','] as const) {
    const counts = new Map<number, number>()
    for (const line of sample) {
      const n = countOutsideQuotes(line, delimiter)
      if (n > 0) counts.set(n, (counts.get(n) ?? 0) + 1)
    }
    const share = Math.max(0, ...counts.values())
    if (share > bestShare) {
      best = delimiter
      bestShare = share
    }
  }
  return best
}

function countOutsideQuotes(line: string, delimiter: string): number {
  let n = 0
  let quoted = false
  for (const char of line) {
    if (char === '"') quoted = !quoted
    else if (char === delimiter && !quoted) n++
  }
  return n
}
