/** An estimate with the range that goes with it. */
export interface Interval {
  readonly estimate: number
  readonly lower: number
  readonly upper: number
  /** Two-sided confidence level, above 0 and below 1. */
  readonly level: number
}
