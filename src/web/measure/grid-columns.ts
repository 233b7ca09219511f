import type { DataKind, Measure } from '../../domain/record.ts'

const CELL_KEYS = ['at', 'value', 'numerator', 'denominator', 'note'] as const
export type CellKey = (typeof CELL_KEYS)[number]
export type Cells = Readonly<Record<CellKey, string>>

export interface GridColumn {
  readonly key: CellKey
  readonly label: string
  /** What to type, in a few words. */
  readonly hint: string
  readonly numeric: boolean
}

/** Which kinds of data are counted as so many of so many. */
export function hasDenominator(kind: DataKind): boolean {
  return kind === 'classified' || kind === 'rates'
}

/** The columns one observation of a measure has, named in the measure's own words. */
export function columnsOf(
  measure: Pick<Measure, 'dataKind' | 'valueFormat' | 'unitLabel'>,
): GridColumn[] {
  const { dataKind } = measure
  const unit = measure.unitLabel.trim()
  const at: GridColumn = { key: 'at', label: 'Date', hint: 'type a date', numeric: false }
  const note: GridColumn = { key: 'note', label: 'Note', hint: '', numeric: false }
  if (dataKind === 'classified') {
    return [
      at,
      { key: 'numerator', label: 'Yes', hint: 'how many', numeric: true },
      {
        key: 'denominator',
        label: unit === '' ? 'Out of' : `Out of (${unit})`,
        hint: 'of how many',
        numeric: true,
      },
      note,
    ]
  }
  if (dataKind === 'rates') {
    return [
      at,
      { key: 'numerator', label: 'Events', hint: 'how many', numeric: true },
      {
        key: 'denominator',
        label: unit === '' ? 'Area' : unit,
        hint: 'of area',
        numeric: true,
      },
      note,
    ]
  }
  const label = unit === '' ? VALUE_LABELS[dataKind] : capital(unit)
  const hint = measure.valueFormat === 'duration' ? '1:02' : '12.5'
  return [at, { key: 'value', label, hint, numeric: true }, note]
}

const VALUE_LABELS: Readonly<Record<DataKind, string>> = {
  single: 'Value',
  subgrouped: 'Value',
  classified: 'Share',
  counts: 'Count',
  rates: 'Rate',
  'cases-between': 'Cases between',
  'time-between': 'Time between',
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
