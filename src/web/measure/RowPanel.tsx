import { useEffect, useState } from 'react'
import { Button } from '../ui/Button.tsx'
import { TextField } from '../ui/TextField.tsx'
import { focusNow } from './focus-now.ts'
import type { CellKey, GridColumn } from './grid-columns.ts'
import { type CellIssue, type GridRow, isBlank } from './grid-row.ts'

export interface RowPanelProps {
  readonly row: GridRow
  readonly index: number
  /** Selected rows, both inclusive. */
  readonly from: number
  readonly to: number
  readonly columns: readonly GridColumn[]
  readonly issues: readonly CellIssue[]
  /** What differs where somebody else saved another version of the row; else `null`. */
  readonly clash: string | null
  readonly onAnswer: (key: CellKey, text: string) => void
  readonly onLeaveOut: (reason: string | null) => void
  readonly onRemove: () => void
  readonly onSettle: (keep: 'mine' | 'theirs') => void
}

/** What can be done with the row the person is on, and what stands in its way. */
export function RowPanel(props: RowPanelProps) {
  const { row, index, from, to, issues } = props
  const [asking, setAsking] = useState(false)
  const [reason, setReason] = useState('')
  const [missing, setMissing] = useState(false)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another row, another question.
  useEffect(() => setAsking(false), [row.id])

  if (isBlank(row)) return null
  const many = to - from + 1
  const leaveOut = () => {
    if (reason.trim() === '') return setMissing(true)
    props.onLeaveOut(reason.trim())
    setAsking(false)
    setReason('')
    setMissing(false)
  }
  return (
    <div className="row-panel">
      <div className="row">
        <strong>{many === 1 ? `Row ${index + 1}` : `Rows ${from + 1} to ${to + 1}`}</strong>
        {many === 1 &&
          (row.leftOutReason === null ? (
            <Button look="quiet" onClick={() => setAsking(true)}>
              Leave this point out
            </Button>
          ) : (
            <Button look="quiet" onClick={() => props.onLeaveOut(null)}>
              Count this point again
            </Button>
          ))}
        <Button look="quiet" onClick={props.onRemove}>
          {many === 1 ? 'Remove this row' : `Remove these ${many} rows`}
        </Button>
      </div>
      {props.clash !== null && (
        <div className="row">
          <span>{props.clash}</span>
          <Button onClick={() => props.onSettle('mine')}>Keep mine</Button>
          <Button onClick={() => props.onSettle('theirs')}>Take theirs</Button>
        </div>
      )}
      <div aria-live="polite" className="stack tight">
        {props.clash === null &&
          issues.map(({ key, message, choices }) => (
            <div className="row" key={key + message}>
              <span className={choices === undefined ? 'problem' : undefined}>{message}</span>
              {choices?.map(({ text, label }) => (
                <Button key={text} onClick={() => props.onAnswer(key, text)}>
                  {label}
                </Button>
              ))}
            </div>
          ))}
      </div>
      {asking && (
        <form
          className="row inline-form"
          onSubmit={(event) => {
            event.preventDefault()
            leaveOut()
          }}
        >
          <TextField
            label="Why is this point left out?"
            hint="It stays on the chart, and does not count towards centre, limits and rules."
            value={reason}
            onChange={setReason}
            error={missing && reason.trim() === '' ? 'Write the reason; it is kept.' : null}
            inputRef={focusNow}
          />
          <Button type="submit">Leave it out</Button>
          <Button look="quiet" onClick={() => setAsking(false)}>
            Keep counting it
          </Button>
        </form>
      )}
    </div>
  )
}
