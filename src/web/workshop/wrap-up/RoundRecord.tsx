import { Link } from 'wouter'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'
import { Said } from '../../ui/Said.tsx'
import { DECIDED, expectationText, outcomeText } from './round-text.ts'

export interface RoundRecordProps {
  readonly rows: readonly RoundRow[]
  readonly caption: string
  /** Whether a column names the table. */
  readonly withTable: boolean
}

/** Every round as a row: what was tried, predicted, measured and decided. */
export function RoundRecord({ rows, caption, withTable }: RoundRecordProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section className="chart-table wrap-record" tabIndex={0} aria-label={caption}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {withTable && <th scope="col">Table</th>}
            <th scope="col">Round</th>
            <th scope="col">Time predicted</th>
            <th scope="col">Time</th>
            <th scope="col">Right predicted</th>
            <th scope="col">Items right</th>
            <th scope="col">Decision</th>
            <th scope="col">Strategy</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.state.cycleId}>
              {withTable && <th scope="row">{row.table}</th>}
              {withTable ? (
                <td>
                  <RoundLink row={row} />
                </td>
              ) : (
                <th scope="row">
                  <RoundLink row={row} />
                </th>
              )}
              <td>
                <Said>{expectationText(row.predictions?.time ?? null, 'time')}</Said>
              </td>
              <td>
                <Said>{outcomeText(row, 'time')}</Said>
              </td>
              <td>
                <Said>{expectationText(row.predictions?.quality ?? null, 'quality')}</Said>
              </td>
              <td>
                <Said>{outcomeText(row, 'quality')}</Said>
              </td>
              <td>
                <Said>{row.state.decision === null ? '–' : DECIDED[row.state.decision.kind]}</Said>
              </td>
              <td className="wrap-words">
                <Said>{row.state.strategy?.trim() || '–'}</Said>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

const RoundLink = ({ row }: { readonly row: RoundRow }) => (
  <Link href={`/tests/${row.state.cycleId}`}>{row.round}</Link>
)
