import type { ImportRow } from '../api/import-contract.ts'
import type { DataKind } from '../domain/record.ts'
import { compareMoments } from '../domain/series.ts'
import type { ChartKind, Series } from '../stats/types.ts'

/** What a chart takes; `null`: whatever the columns hold. */
export const KIND_TAKES: Readonly<Record<ChartKind | 'auto', DataKind | null>> = {
  auto: null,
  run: null,
  individuals: 'single',
  'moving-range': 'single',
  'xbar-s': 'subgrouped',
  'xbar-r': 'subgrouped',
  p: 'classified',
  'p-prime': 'classified',
  c: 'counts',
  u: 'rates',
  'u-prime': 'rates',
  g: 'cases-between',
  t: 'time-between',
  ewma: 'single',
  cusum: 'single',
}

/** A series with the lines of the file that each of its points comes from. */
export interface FileSeries {
  readonly series: Series
  readonly lines: readonly (readonly number[])[]
}

/** Rows of a table as columns in time order; rows of one date as a subgroup where the data are. */
export function seriesFrom(rows: readonly ImportRow[], dataKind: DataKind): FileSeries {
  const sorted = rows.toSorted((a, b) => compareMoments(a.at, b.at) || a.row - b.row)
  if (dataKind === 'subgrouped') {
    const groups = Object.groupBy(sorted, (row) => `@${row.at}`)
    const points = Object.values(groups).map((group) => group!)
    return {
      series: {
        at: points.map((group) => group[0]!.at),
        subgroups: points.map((group) => {
          const values = group.flatMap(({ value }) => (value === null ? [] : [value]))
          return values.length === 0 ? null : values
        }),
      },
      lines: points.map((group) => group.map(({ row }) => row)),
    }
  }
  const at = sorted.map((row) => row.at)
  const lines = sorted.map(({ row }) => [row])
  if (dataKind !== 'classified' && dataKind !== 'rates')
    return { series: { at, values: sorted.map(({ value }) => value) }, lines }
  const numerators = sorted.map(({ numerator }) => numerator)
  const denominators = sorted.map(({ denominator }) => denominator)
  return { series: { at, numerators, denominators }, lines }
}
