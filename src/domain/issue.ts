/** One of several things that stand in the way of an action; forms show each beside its field. */
export interface Issue {
  /** Stable, `area.problem`. */
  readonly code: string
  /** The field it belongs to, such as `question` or `prediction:<id>:low`. */
  readonly field: string
  /** What is missing or wrong, and what to do, in one sentence. */
  readonly message: string
}
