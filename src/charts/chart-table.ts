import { dateText, isRowNumber, numberText } from './format.ts'
import type { ChartSpec } from './spec.ts'
import { centerWord, letterOf, valueTextOf } from './words.ts'

export interface ChartTable {
  readonly columns: readonly {
    readonly key: string
    readonly label: string
    readonly numeric: boolean
  }[]
  /** One row a point, as many cells as columns; `''` where there is nothing. */
  readonly rows: readonly { readonly at: string; readonly cells: readonly string[] }[]
}

/**
 * The chart as a table: one row a point, and only the columns that hold something.
 *
 * @param spec The chart; its size does not matter.
 */
export function chartTable(spec: ChartSpec): ChartTable {
  const { points, kind } = spec.analysis
  const words = valueTextOf(spec)
  const center = centerWord(kind)
  const centerText = (value: number | null) => (value === null ? '' : words.center(value))
  const amount = (value: number | null) =>
    value === null ? '' : numberText(value, Number.isInteger(value) ? 0 : 2)
  const all = [
    { key: 'at', label: 'Date', numeric: false, cell: (i: number) => dateText(points[i]!.at) },
    {
      key: 'value',
      label: spec.unitLabel ? `Value, ${spec.unitLabel}` : 'Value',
      numeric: true,
      cell: (i: number) => {
        const { value } = points[i]!
        return value === null ? '' : words.value(value)
      },
    },
    {
      key: 'numerator',
      label: 'Count',
      numeric: true,
      cell: (i: number) => amount(points[i]!.numerator),
    },
    {
      key: 'denominator',
      label: 'Out of',
      numeric: true,
      cell: (i: number) => amount(points[i]!.denominator),
    },
    {
      key: 'center',
      label: `${center[0]!.toUpperCase()}${center.slice(1)}`,
      numeric: true,
      cell: (i: number) => centerText(points[i]!.center),
    },
    {
      key: 'lower',
      label: 'Lower limit',
      numeric: true,
      cell: (i: number) => centerText(points[i]!.lower),
    },
    {
      key: 'upper',
      label: 'Upper limit',
      numeric: true,
      cell: (i: number) => centerText(points[i]!.upper),
    },
    {
      key: 'signals',
      label: 'Signals',
      numeric: false,
      cell: (i: number) => points[i]!.signals.map(letterOf).join(', '),
    },
    {
      key: 'leftOut',
      label: 'Left out',
      numeric: false,
      cell: (i: number) => points[i]!.leftOut ?? '',
    },
  ]
  const indices = points.map((_, i) => i)
  const numbered = points.every((p) => isRowNumber(p.at))
  const kept = all.filter(
    ({ key, cell }) => key === 'at' || key === 'value' || indices.some((i) => cell(i) !== ''),
  )
  return {
    columns: kept.map(({ key, label, numeric }) => ({
      key,
      label: key === 'at' && numbered ? 'Row' : label,
      numeric,
    })),
    rows: indices.map((i) => ({ at: points[i]!.at, cells: kept.map(({ cell }) => cell(i)) })),
  }
}
