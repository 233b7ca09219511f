import type { ChartTable } from '../../charts/chart-table.ts'

export interface ChartDataTableProps {
  readonly table: ChartTable
  readonly caption: string
}

/** The chart's numbers as a table that scrolls inside its own frame. */
export function ChartDataTable({ table, caption }: ChartDataTableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section className="chart-table" tabIndex={0} aria-label={caption}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {table.columns.map((column) => (
              <th key={column.key} scope="col" className={column.numeric ? 'chart-number' : ''}>
                {column.label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row) => (
            <tr key={row.at}>
              {table.columns.map((column, i) =>
                i === 0 ? (
                  <th key={column.key} scope="row">
                    {row.cells[i]}
                  </th>
                ) : (
                  <td key={column.key} className={column.numeric ? 'chart-number' : ''}>
                    {row.cells[i]}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
