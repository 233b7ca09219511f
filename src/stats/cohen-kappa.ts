import { AppError } from '../errors.ts'
import type { Interval } from './interval.ts'
import { requireLevel, requireNumber } from './special/check.ts'
import { normalQuantile } from './special/normal.ts'

/** How much a disagreement counts: not at all, by distance, by its square, or by a matrix of costs. */
export type KappaWeights = 'none' | 'linear' | 'quadratic' | readonly (readonly number[])[]

/** Agreement beyond chance, with its parts. */
export interface Kappa extends Interval {
  /** Share of (weighted) agreement seen. */
  readonly observed: number
  /** Share of (weighted) agreement expected by chance. */
  readonly expected: number
  readonly standardError: number
  /** Standard error if there were no agreement beyond chance. */
  readonly standardErrorAtZero: number
  readonly n: number
}

/**
 * Cohen's kappa of two inspectors, plain or weighted.
 *
 * `(po − pe) / (1 − pe)`, with agreement weights `1 − cost / largest cost`; the large-sample interval.
 *
 * @param table   Square table of whole counts: rows the first inspector, columns the second, same categories
 *                in the same order, at least 2.
 * @param options `weights`, default `none`: `linear` and `quadratic` for ordered categories, or a matrix of
 *                costs of disagreement, zero on its diagonal. `level`, default 0.95.
 * @returns Kappa, at most 1. Limits are not clipped.
 * @throws AppError `stats.bad_table`, `stats.not_finite`, `stats.out_of_range`; `stats.constant` when both
 *   inspectors used one and the same category throughout.
 *
 * @see Cohen (1960), Educ Psychol Meas 20:37; Cohen (1968), Psychol Bull 70:213; Fleiss, Cohen & Everitt
 *   (1969), Psychol Bull 72:323 for the standard errors.
 *
 * @example
 * cohenKappa([[20, 5], [10, 15]]).estimate // => 0.4
 */
export function cohenKappa(
  table: readonly (readonly number[])[],
  options: { readonly weights?: KappaWeights; readonly level?: number } = {},
): Kappa {
  const { weights = 'none', level = 0.95 } = options
  requireLevel(level)
  const k = table.length
  requireSquare(table, k, 'The table')
  let n = 0
  table.forEach((row, i) => {
    row.forEach((count, j) => {
      requireNumber(`Row ${i + 1}, column ${j + 1} of the table`, count, 'a whole count')
      n += count
    })
  })
  requireNumber('The total of the table', n, 'positive')
  const w = agreementWeights(weights, k)
  const p = table.map((row) => row.map((count) => count / n))
  const rows = p.map((row) => row.reduce((a, b) => a + b, 0))
  const columns = rows.map((_, j) => p.reduce((sum, row) => sum + row[j]!, 0))
  const rowWeights = w.map((row) => row.reduce((sum, x, j) => sum + x * columns[j]!, 0))
  const columnWeights = columns.map((_, j) =>
    w.reduce((sum, row, i) => sum + row[j]! * rows[i]!, 0),
  )
  let observed = 0
  let expected = 0
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      observed += w[i]![j]! * p[i]![j]!
      expected += w[i]![j]! * rows[i]! * columns[j]!
    }
  }
  if (1 - expected < 1e-12) {
    throw new AppError(
      'stats.constant',
      'Both inspectors put everything in one category, so chance alone explains their agreement.',
      'Include items of the other categories.',
      { n },
    )
  }
  const kappa = (observed - expected) / (1 - expected)
  let spread = 0
  let spreadAtZero = 0
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      const both = rowWeights[i]! + columnWeights[j]!
      spread += p[i]![j]! * (w[i]![j]! - both * (1 - kappa)) ** 2
      spreadAtZero += rows[i]! * columns[j]! * (w[i]![j]! - both) ** 2
    }
  }
  const scale = Math.sqrt(n) * (1 - expected)
  const standardError =
    Math.sqrt(Math.max(0, spread - (kappa - expected * (1 - kappa)) ** 2)) / scale
  const half = -normalQuantile((1 - level) / 2) * standardError
  return {
    estimate: kappa,
    lower: kappa - half,
    upper: kappa + half,
    level,
    observed,
    expected,
    standardError,
    standardErrorAtZero: Math.sqrt(Math.max(0, spreadAtZero - expected ** 2)) / scale,
    n,
  }
}

function requireSquare(table: readonly (readonly number[])[], k: number, name: string): void {
  const wrong = table.findIndex((row) => row.length !== k)
  if (k >= 2 && wrong === -1) return
  throw new AppError(
    'stats.bad_table',
    wrong === -1
      ? `${name} has ${k} categories, at least 2 are needed.`
      : `${name} has ${k} rows, but row ${wrong + 1} has ${table[wrong]!.length} columns.`,
    'Give one row and one column for each category, in the same order.',
    { rows: k, row: wrong },
  )
}

function agreementWeights(weights: KappaWeights, k: number): number[][] {
  let costs: readonly (readonly number[])[]
  if (typeof weights === 'string') {
    const cost = {
      none: (d: number) => Math.sign(d),
      linear: (d: number) => d,
      quadratic: (d: number) => d * d,
    }
    costs = Array.from({ length: k }, (_, i) =>
      Array.from({ length: k }, (_, j) => cost[weights](Math.abs(i - j))),
    )
  } else {
    requireSquare(weights, k, 'The matrix of costs')
    weights.forEach((row, i) => {
      row.forEach((cost, j) => {
        requireNumber(`Row ${i + 1}, column ${j + 1} of the costs`, cost, 'not negative')
      })
    })
    costs = weights
  }
  const largest = Math.max(...costs.flat())
  requireNumber('The largest cost', largest, 'positive')
  return costs.map((row) => row.map((cost) => 1 - cost / largest))
}
