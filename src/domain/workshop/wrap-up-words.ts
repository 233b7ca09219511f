import { formatDuration } from '../duration.ts'

/** One finding of the wrap-up in sentences: the same on the page and on paper. */
export interface WrapUpPart {
  readonly key:
    | 'learning'
    | 'spread'
    | 'correct'
    | 'trades'
    | 'predictions'
    | 'decisions'
    | 'timers'
    | 'inspectors'
    | 'confidence'
  readonly title: string
  readonly sentences: readonly string[]
  /** Reasons to be careful with it. */
  readonly limits: readonly string[]
}

/** Whole percents. */
export const percent = (share: number) => `${Math.round(share * 100)} %`
/** A duration to a tenth of a second. */
export const clock = (seconds: number) => formatDuration(seconds)
/** A count with its word: `1 table`, `6 tables`. */
export const counted = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`
/** A factor: two decimals near 1, where they matter, else one. */
export const factor = (ratio: number) => ratio.toFixed(ratio < 1.95 ? 2 : 1)
export const listText = (parts: readonly string[]) =>
  parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`
