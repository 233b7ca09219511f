/** A file or pasted cells on the way into a measure. Types only. */

export interface ImportRequest {
  /** The file or the pasted cells, as text. */
  readonly text: string
  /** Which column holds what; guessed where left out. Column names, or 1-based numbers as text. */
  readonly columns?: {
    readonly at?: string
    readonly value?: string
    readonly numerator?: string
    readonly denominator?: string
    readonly note?: string
  }
  /** Needed only where dates such as 03/04/2026 are ambiguous. */
  readonly dateOrder?: 'day-first' | 'month-first'
}
export interface ImportIssue {
  /** Line in the file, the header being line 1. `null`: the file as a whole. */
  readonly row: number | null
  /** Column name or number as the person sees it; `null`: the row as a whole. */
  readonly column: string | null
  readonly code: string
  /** What is wrong and what was expected. */
  readonly message: string
}
export interface ImportRow {
  readonly row: number
  readonly at: string
  readonly value: number | null
  readonly numerator: number | null
  readonly denominator: number | null
  readonly note: string
}
export interface ImportPreview {
  readonly header: readonly string[]
  /** What each column was taken for. */
  readonly columns: Readonly<Record<string, string | null>>
  readonly rows: readonly ImportRow[]
  readonly issues: readonly ImportIssue[]
  /** Rows whose date is already in the measure, by row number: they would be doubled. */
  readonly alreadyThere: readonly number[]
}
