import type { ImportPreview, ImportRequest } from '../api/import-contract.ts'
import type { DataKind, ValueFormat } from '../domain/record.ts'

/** How to read a table that somebody exported, pasted or typed. */
export interface TableOptions {
  /** `null`: decided from the columns (one value, or a numerator with a denominator). */
  readonly dataKind: DataKind | null
  /** `duration`: values may be written `1:02`, `62 s` or `1 min 2 s`. Default `number`. */
  readonly valueFormat?: ValueFormat
  /** Which column holds what: names, or 1-based numbers as text. Guessed where left out. */
  readonly columns?: ImportRequest['columns']
  /** Needed only where dates such as 03/04/2026 are ambiguous. */
  readonly dateOrder?: 'day-first' | 'month-first'
  /** Needed only where numbers such as 1,234 are ambiguous. */
  readonly decimalMark?: 'point' | 'comma'
  /** Whether plain row numbers will do for dates, or no date column at all. Default `refuse`. */
  readonly rowNumbers?: 'allow' | 'refuse'
  /** Most data rows taken. Default 100,000. */
  readonly maxRows?: number
}

/** What was read. `rows` is empty whenever `issues` is not: never a part of a file. */
export interface TableReading extends Omit<ImportPreview, 'alreadyThere'> {
  readonly delimiter: ',' | ';' | '\t'
  /** What was asked for, or decided from the columns; `null` where the columns do not say. */
  readonly dataKind: DataKind | null
}
