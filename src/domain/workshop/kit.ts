/**
 * A kit: a small physical task that a table does again and again, each time as one test of change.
 * Plain data, so that a facilitator can copy, edit or write one.
 */

/** One thing laid out on the card, in cells of its grid. */
export interface CardPlace {
  readonly label: string
  /** 0-based cell of its upper left corner. */
  readonly column: number
  readonly row: number
  /** Cells it covers, at least 1 each way. */
  readonly columns: number
  readonly rows: number
  readonly shape: CardShape
}

export const CARD_SHAPES = ['box', 'round', 'slim', 'fold', 'arrow', 'stack'] as const
export type CardShape = (typeof CARD_SHAPES)[number]

/** The picture of the finished task, drawn from its places. */
export interface KitCard {
  readonly columns: number
  readonly rows: number
  readonly places: readonly CardPlace[]
  /** One sentence under the picture. */
  readonly note: string
}

/** A step of the quality score: reached when at least this share of the items is right. */
export interface ScoreStep {
  /** 0–1. */
  readonly atLeast: number
  readonly score: number
  readonly label: string
}

export interface Kit {
  readonly name: string
  readonly summary: string
  /** What to bring, for one table. */
  readonly bring: readonly string[]
  /** What the table is asked to do, in the words it reads. */
  readonly task: readonly string[]
  /** Operational definition of the time: the clock starts when … */
  readonly clockStarts: string
  /** … and stops when … */
  readonly clockStops: string
  readonly card: KitCard
  /** 6 to 20 items, each right or not. */
  readonly checklist: readonly string[]
  /** From the highest step down; the last has `atLeast` 0. Common practice: three steps. */
  readonly score: readonly ScoreStep[]
  /** Strategy prompts: questions a table may ask itself before it predicts. */
  readonly prompts: readonly string[]
  /** For the facilitator only. */
  readonly hints: readonly string[]
  readonly variations: readonly string[]
}

/**
 * The step of a kit's score that an inspection reaches.
 *
 * @param steps The kit's steps, from the highest down.
 * @param right Items right, 0 to `inspected`.
 * @param inspected Items inspected, at least 1.
 * @returns The step, or `null` when nothing was inspected.
 *
 * @example
 * scoreOf([{ atLeast: 1, score: 3, label: 'all' }, { atLeast: 0, score: 1, label: 'less' }], 11, 12)?.score // => 1
 */
export function scoreOf(
  steps: readonly ScoreStep[],
  right: number,
  inspected: number,
): ScoreStep | null {
  if (inspected === 0) return null
  return steps.find(({ atLeast }) => right / inspected >= atLeast) ?? null
}
