import { AppError } from '../errors.ts'
import type { ChartKind, Series } from './types.ts'

/** A chart and why it was chosen. */
export interface ChartChoice {
  readonly kind: ChartKind
  /** One sentence for people. */
  readonly reason: string
}

const CHOICES: Readonly<Record<string, ChartChoice>> = {
  single: {
    kind: 'individuals',
    reason:
      'Each point is one measurement, so the limits come from how far neighbouring points differ (individuals chart).',
  },
  subgrouped: {
    kind: 'xbar-s',
    reason:
      'Each point is the mean of several measurements, so the limits come from the spread within them (X-bar and S chart).',
  },
  classified: {
    kind: 'p',
    reason:
      'Each point is a share of items inspected, so the limits are binomial and follow the number inspected (P chart).',
  },
  counts: {
    kind: 'c',
    reason:
      'Each point is a count with about the same chance of events every time, so the limits are Poisson (C chart).',
  },
  rates: {
    kind: 'u',
    reason:
      'Each point is a count over an area that changes, so the limits are Poisson and follow the area (U chart).',
  },
  'cases-between': {
    kind: 'g',
    reason:
      'Each point is the number of cases between two rare events, which follows a geometric distribution (G chart).',
  },
  'time-between': {
    kind: 't',
    reason:
      'Each point is the time between two rare events, which is far from symmetric and is straightened before limits are set (T chart).',
  },
}

/**
 * The chart that suits what one observation is.
 *
 * @param dataKind `single`, `subgrouped`, `classified`, `counts`, `rates`, `cases-between` or
 *   `time-between`.
 * @returns The chart and the reason in words.
 * @throws AppError `stats.unknown_data_kind`.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3; Benneyan 2001; Nelson 1994.
 *
 * @example
 * chooseChart('classified').kind // => 'p'
 */
export function chooseChart(dataKind: string): ChartChoice {
  const choice = Object.hasOwn(CHOICES, dataKind) ? CHOICES[dataKind] : undefined
  if (choice !== undefined) return choice
  throw new AppError(
    'stats.unknown_data_kind',
    `There is no kind of data called ${dataKind}.`,
    `Use one of: ${Object.keys(CHOICES).join(', ')}.`,
    { dataKind },
  )
}

/**
 * The chart that suits the columns of a series, where nothing is known but the numbers.
 *
 * @param series The columns.
 * @param per    Rates are shown per this many units; anything but 1 says that it is a rate.
 * @returns The chart and the reason in words.
 *
 * @example
 * guessChart({ at: ['1'], numerators: [7], denominators: [40] }, 1).kind // => 'p'
 */
export function guessChart(series: Series, per: number): ChartChoice {
  if (series.values === undefined && series.subgroups !== undefined)
    return chooseChart('subgrouped')
  if (series.values === undefined && series.numerators !== undefined) {
    if (series.denominators === undefined) return chooseChart('counts')
    return per === 1 && looksClassified(series.numerators, series.denominators)
      ? chooseChart('classified')
      : chooseChart('rates')
  }
  return {
    kind: 'run',
    reason:
      'Nothing says how these single values come about, so they are drawn as a run chart, which asks least of them.',
  }
}

/**
 * Whole numbers, and no more than the denominator almost everywhere. One row with a numerator too
 * large is more likely a slip than a rate, and the check of a P chart then names it.
 */
function looksClassified(
  numerators: readonly (number | null)[],
  denominators: readonly (number | null)[],
): boolean {
  let over = 0
  let pairs = 0
  for (let i = 0; i < numerators.length; i++) {
    const top = numerators[i] ?? null
    const bottom = denominators[i] ?? null
    if (top !== null && !Number.isInteger(top)) return false
    if (bottom !== null && !Number.isInteger(bottom)) return false
    if (top === null || bottom === null) continue
    pairs++
    if (top > bottom) over++
  }
  return over * 5 <= pairs
}
