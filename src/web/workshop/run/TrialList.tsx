import { useState } from 'react'
import { formatDuration } from '../../../domain/duration.ts'
import { isCountOnly } from '../../../domain/workshop/inspecting.ts'
import type { TableState, TrialState } from '../../../domain/workshop/room-state.ts'
import { Button } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { Said } from '../../ui/Said.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { useConsole } from './use-console.ts'

/** The table's trials, newest round first, each of which can be made void and taken back. */
export function TrialList({ table }: { table: TableState }) {
  const rounds = [...table.rounds].reverse().filter((round) => round.trials.length > 0)
  if (rounds.length === 0) return null
  return (
    <ul className="console-trials bare" aria-label={`Trials of ${table.name}`}>
      {rounds.flatMap((round) =>
        round.trials.map((trial) => (
          <Trial
            key={trial.id}
            trial={trial}
            table={table}
            name={
              round.trials.length > 1
                ? `Round ${round.number}, trial ${trial.number}`
                : `Round ${round.number}`
            }
          />
        )),
      )}
    </ul>
  )
}

interface TrialProps {
  readonly trial: TrialState
  readonly table: TableState
  readonly name: string
}

function resultOf(trial: TrialState): string {
  const { seconds, unsettled, readings, right, inspected, inspections } = trial
  const time =
    seconds !== null
      ? formatDuration(seconds)
      : unsettled
        ? `two timers differ: ${readings.map((r) => formatDuration(r.seconds)).join(' and ')}`
        : readings[0] !== undefined
          ? formatDuration(readings[0].seconds)
          : 'running'
  if (right === null) return time
  return `${time}, ${right} of ${inspected} right${isCountOnly(inspections) ? ' (count only)' : ''}`
}

function Trial({ trial, table, name }: TrialProps) {
  const { act, busy } = useConsole()
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [missing, setMissing] = useState(false)
  const { id: trialId, voidReason } = trial
  const tableId = table.id
  const void_ = (why: string) => ({ kind: 'void' as const, trialId, reason: why, tableId })
  const unvoid = { kind: 'unvoid' as const, trialId, tableId }
  const save = async () => {
    const why = reason.trim()
    setMissing(why === '')
    if (why === '') return
    const text = `${name} of ${table.name} is void.`
    if (await act(void_(why), { text, moves: () => [unvoid] })) setOpen(false)
  }
  if (voidReason !== null)
    return (
      <li className="row">
        <span>
          <s>
            <Said>{`${name}: ${resultOf(trial)}`}</Said>
          </s>
          <span className="soft">{` void: ${voidReason}`}</span>
        </span>
        <Button
          look="quiet"
          className="small"
          onClick={() =>
            void act(unvoid, {
              text: `${name} of ${table.name} counts again.`,
              moves: () => [void_(voidReason)],
            })
          }
        >
          Let it count again
        </Button>
      </li>
    )
  return (
    <li>
      <div className="row">
        <span>
          <Said>{`${name}: ${resultOf(trial)}`}</Said>
        </span>
        {!open && (
          <Button look="quiet" className="small" onClick={() => setOpen(true)}>
            {`Make ${name.toLowerCase()} void`}
          </Button>
        )}
      </div>
      {open && (
        <Form onSubmit={() => void save()}>
          <div className="console-nudge">
            <TextField
              label={`Why ${name.toLowerCase()} does not count`}
              value={reason}
              onChange={setReason}
              error={missing ? 'Write a reason; it stays on the record.' : null}
            />
            <Button type="submit" busy={busy}>
              Make it void
            </Button>
          </div>
        </Form>
      )}
    </li>
  )
}
