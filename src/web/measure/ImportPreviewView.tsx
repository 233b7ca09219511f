import type { ImportPreview } from '../../api/import-contract.ts'
import type { Measure } from '../../domain/record.ts'
import { editableValue, formatNumber } from '../../domain/value-text.ts'
import { formatInstant } from '../lib/dates.ts'
import { columnsOf } from './grid-columns.ts'

const ROWS = 6
const ISSUES = 12

/** The problems of a file, each with its row and column; else its first rows as they would be saved. */
export function ImportPreviewView({
  preview,
  measure,
}: {
  readonly preview: ImportPreview
  readonly measure: Measure
}) {
  const { issues, rows } = preview
  if (issues.length > 0) {
    return (
      <div className="table-scroll">
        <table className="plain-table">
          <caption>What stands in the way</caption>
          <thead>
            <tr>
              <th scope="col">Row</th>
              <th scope="col">Column</th>
              <th scope="col">Problem</th>
            </tr>
          </thead>
          <tbody>
            {issues.slice(0, ISSUES).map((issue) => (
              <tr key={`${issue.row}-${issue.column}-${issue.message}`}>
                <td>{issue.row ?? 'file'}</td>
                <td>{issue.column ?? '–'}</td>
                <td>{issue.message}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {issues.length > ISSUES && (
          <p className="small soft">and {(issues.length - ISSUES).toLocaleString()} more</p>
        )}
      </div>
    )
  }
  if (rows.length === 0) return null
  const columns = columnsOf(measure)
  const single = { ...measure, dataKind: 'single' as const }
  const text = (row: (typeof rows)[number], key: (typeof columns)[number]['key']): string => {
    if (key === 'at') return formatInstant(row.at)
    if (key === 'note') return row.note
    const value = row[key]
    if (value === null) return '–'
    return key === 'value' ? editableValue(single, value) : formatNumber(value)
  }
  return (
    <div className="table-scroll">
      <table className="plain-table">
        <caption>
          {rows.length > ROWS
            ? `The first ${ROWS} rows, as they will be saved`
            : 'As it will be saved'}
        </caption>
        <thead>
          <tr>
            {columns.map(({ key, label, numeric }) => (
              <th key={key} scope="col" className={numeric ? 'numeric' : undefined}>
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, ROWS).map((row) => (
            <tr key={row.row}>
              {columns.map(({ key, numeric }) => (
                <td key={key} className={numeric ? 'numeric' : undefined}>
                  {text(row, key)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
