import { useState } from 'react'
import { Link } from 'wouter'
import { formatDuration } from '../../../domain/duration.ts'
import type { RoundState, SeatState, TableState } from '../../../domain/workshop/room-state.ts'
import { hasLocked } from '../../../domain/workshop/visible.ts'
import { Button } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { NudgeForm } from './NudgeForm.tsx'
import { TrialList } from './TrialList.tsx'
import { awaited } from './table-stage.ts'
import { useConsole } from './use-console.ts'

/** Everything about one table that is not needed at every glance. */
export function TablePanel({ table }: { table: TableState }) {
  const { state, act } = useConsole()
  const { id: roomId, round } = state.room
  const own = table.rounds.find(({ number }) => number === round)
  const { id, name } = table
  return (
    <div className="console-panel">
      {own !== undefined && <RoundLine round={own} />}
      <TrialList table={table} />
      <NudgeForm table={table} />
      {round > 0 && !hasLocked(table, round) && <GoOn table={table} round={round} />}
      {table.joinNumber !== null && (
        <p className="small">
          {`Another phone joins ${name} with the number `}
          <strong>{table.joinNumber}</strong>.
        </p>
      )}
      <Rename table={table} />
      {table.seats.length > 0 && (
        <ul className="bare" aria-label={`Phones of ${name}`}>
          {table.seats.map((seat, i) => (
            <Seat key={seat.id} seat={seat} number={i + 1} />
          ))}
        </ul>
      )}
      <div className="row">
        <Link href={`/workshops/${roomId}/tables/${id}`}>{`Record of ${name}`}</Link>
        <Button
          look="quiet"
          onClick={() =>
            void act(
              { kind: 'remove-table', ofTableId: id },
              {
                text: `${name} is removed. Its record is kept.`,
                moves: () => [{ kind: 'restore-table', ofTableId: id }],
              },
            )
          }
        >
          {`Remove ${name}`}
        </Button>
      </div>
    </div>
  )
}

/** Strategy and prediction, for the facilitator's eyes. */
function RoundLine({ round }: { round: RoundState }) {
  const time = round.predictions?.time ?? null
  return (
    <p className="small">
      {round.strategy ? `“${round.strategy}”` : 'No strategy yet'}
      {time !== null &&
        (time.low === time.high
          ? `; predicts ${formatDuration(time.expected)}`
          : `; predicts ${formatDuration(time.low)} to ${formatDuration(time.high)}`)}
      .
    </p>
  )
}

/** Whether the class waits for this table's lock. */
function GoOn({ table, round }: { table: TableState; round: number }) {
  const { state, act } = useConsole()
  const others = awaited(state, round).filter(({ id }) => id !== table.id)
  const last = others.length > 0 && others.every((other) => hasLocked(other, round))
  const excused = table.excused.includes(round)
  const excuse = { kind: 'excuse', ofTableId: table.id, round } as const
  const wait = { kind: 'unexcuse', ofTableId: table.id, round } as const
  return (
    <div className="stack tight">
      <Button
        onClick={() =>
          void (excused
            ? act(wait, { text: `The class waits for ${table.name}.`, moves: () => [excuse] })
            : act(excuse, {
                text: `Round ${round} goes on without ${table.name}.`,
                moves: () => [wait],
              }))
        }
      >
        {excused ? 'Wait for this table again' : `Go on without it in round ${round}`}
      </Button>
      {last && !excused && (
        <p className="small soft">
          All others have locked: the predictions then show at once, and cannot be hidden again.
        </p>
      )}
    </div>
  )
}

function Rename({ table }: { table: TableState }) {
  const { act, busy } = useConsole()
  const [name, setName] = useState(table.name)
  const rename = (to: string) => ({ kind: 'rename-table' as const, ofTableId: table.id, name: to })
  const save = () => {
    const to = name.trim()
    if (to === '' || to === table.name) return
    void act(rename(to), {
      text: `${table.name} is now ${to}.`,
      moves: () => [rename(table.name)],
    })
  }
  return (
    <Form onSubmit={save}>
      <div className="console-nudge">
        <TextField
          label="Name of the table"
          value={name}
          onChange={setName}
          error={name.trim() === '' ? 'Give the table a name.' : null}
        />
        <Button type="submit" busy={busy}>
          Rename
        </Button>
      </div>
    </Form>
  )
}

function Seat({ seat, number }: { seat: SeatState; number: number }) {
  const { act } = useConsole()
  const who = seat.name === '' ? `Phone ${number}` : seat.name
  return (
    <li className="row">
      <span>
        {who}
        {seat.roles.length > 0 && <span className="soft">{` · ${seat.roles.join(', ')}`}</span>}
      </span>
      <Button
        look="quiet"
        className="small"
        onClick={() =>
          void act(
            { kind: 'remove-seat', seatId: seat.id },
            {
              text: `${who} is removed.`,
              moves: () => [{ kind: 'restore-seat', seatId: seat.id }],
            },
          )
        }
      >
        {`Remove ${who}`}
      </Button>
    </li>
  )
}
