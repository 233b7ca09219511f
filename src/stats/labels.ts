import { AppError } from '../errors.ts'

const PLAIN_NUMBER = /^-?\d+(\.\d+)?$/

/** How two labels of one series are put in order. */
export type LabelOrder = 'number' | 'text'

/**
 * How the labels of a series are ordered: by value where every one is a plain number, else as text
 * (ISO 8601 dates and date-times sort as text).
 *
 * @param labels Labels in the order given; any length.
 * @returns `number` or `text`.
 *
 * @example
 * labelOrder(['9', '10']) // => 'number'
 */
export function labelOrder(labels: readonly string[]): LabelOrder {
  for (const label of labels) if (!PLAIN_NUMBER.test(label)) return 'text'
  return 'number'
}

/**
 * Whether label `a` comes strictly before label `b`.
 *
 * @param a     A label.
 * @param b     Another label of the same series, or a phase border.
 * @param order As found by `labelOrder`.
 * @returns `true` where `a` is earlier.
 *
 * @example
 * isBefore('9', '10', 'number') // => true
 */
export function isBefore(a: string, b: string, order: LabelOrder): boolean {
  return order === 'number' ? Number(a) < Number(b) : a < b
}

/**
 * Whether `label` belongs to the stretch that ends with `through`. A shorter `through` covers all
 * it begins: `2026-03` covers every day of March, `2026-03-31` every hour of that day.
 *
 * @param label   A label of the series.
 * @param through The last label of the stretch, in the same or a coarser form.
 * @param order   As found by `labelOrder`.
 * @returns `true` where `label` is not after `through`.
 *
 * @example
 * isThrough('2026-03-31', '2026-03', 'text') // => true
 */
export function isThrough(label: string, through: string, order: LabelOrder): boolean {
  if (order === 'number') return Number(label) <= Number(through)
  return label <= through || label.startsWith(through)
}

/**
 * Refuse labels that are not strictly increasing, and say how they are ordered.
 *
 * @param labels Labels in time order; any length.
 * @returns The order that holds.
 * @throws AppError `stats.duplicate_label`, `stats.unsorted`.
 *
 * @example
 * checkedLabelOrder(['2026-01-05', '2026-01-12']) // => 'text'
 */
export function checkedLabelOrder(labels: readonly string[]): LabelOrder {
  const order = labelOrder(labels)
  for (let i = 1; i < labels.length; i++) {
    const here = labels[i]!
    const before = labels[i - 1]!
    if (isBefore(before, here, order)) continue
    const details = { index: i, label: here, previous: before }
    if (here === before || (order === 'number' && Number(here) === Number(before))) {
      throw new AppError(
        'stats.duplicate_label',
        `Points ${i} and ${i + 1} both have the label ${here}.`,
        'Give each point its own date, date-time or row number, or put the values of one date into a subgroup.',
        details,
      )
    }
    throw new AppError(
      'stats.unsorted',
      `Point ${i + 1} (${here}) comes after point ${i} (${before}), but its label is earlier.`,
      'Sort the points by time; write dates as YYYY-MM-DD.',
      details,
    )
  }
  return order
}
