import { useState } from 'react'
import type { CycleReply } from '../../api/contract.ts'
import type { Cycle } from '../../domain/record.ts'
import { useAction } from '../lib/use-action.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { Button } from '../ui/Button.tsx'
import { DoSection } from './DoSection.tsx'

export interface DoReadProps {
  readonly data: CycleReply
  readonly editing: Editing<Cycle>
  readonly reload: () => void
  /** The test is closed, or this person may only look. */
  readonly readOnly: boolean
}

/** Do, once it is finished: read as text; opened again for a correction until the test is closed. */
export function DoRead({ data, editing, reload, readOnly }: DoReadProps) {
  const [open, setOpen] = useState(false)
  const action = useAction()
  const { cycle } = data
  if (open && !readOnly) {
    return (
      <>
        <DoSection
          data={data}
          editing={editing}
          reload={reload}
          action={action}
          onDone={() => undefined}
        />
        <Button onClick={() => setOpen(false)}>Close Do again</Button>
      </>
    )
  }
  const entries = [
    ['What happened', cycle.happened],
    ['What went wrong', cycle.wentWrong],
    ['Surprises', cycle.surprises],
  ] as const
  const told = entries.filter(([, text]) => text.trim() !== '')
  return (
    <>
      {told.length === 0 && <p className="soft">Nothing is written about how it ran.</p>}
      <dl className="plan-read">
        {told.map(([label, text]) => (
          <div className="entry" key={label}>
            <dt>{label}</dt>
            <dd className="pre">{text}</dd>
          </div>
        ))}
      </dl>
      {!readOnly && (
        <Button look="quiet" className="outdent" onClick={() => setOpen(true)}>
          Add to Do, or correct it
        </Button>
      )}
    </>
  )
}
