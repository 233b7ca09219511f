import { useState } from 'react'
import { newId } from '../../lib/ids.ts'
import { Button } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { NudgeForm } from './NudgeForm.tsx'
import { TableRow } from './TableRow.tsx'
import { tablesIn } from './table-stage.ts'
import { useConsole } from './use-console.ts'
import { useTicking } from './use-ticking.ts'

const AGO_TICK = 5000

/** Every table on one line each, with the rest behind it. */
export function ConsoleTables() {
  const { state } = useConsole()
  useTicking(AGO_TICK)
  const tables = tablesIn(state)
  const removed = state.tables.filter((table) => table.removed)
  return (
    <section className="console-part console-tables" aria-labelledby="console-tables">
      <h2 id="console-tables">{`Tables (${tables.length})`}</h2>
      {tables.length === 0 ? (
        <p>Nobody has joined yet. Open the room screen, or read out the code.</p>
      ) : (
        <ul className="console-rows bare">
          {tables.map((table) => (
            <TableRow key={table.id} table={table} />
          ))}
        </ul>
      )}
      <NudgeForm table={null} />
      <AddTable />
      {removed.length > 0 && (
        <ul className="console-removed bare">
          {removed.map((table) => (
            <RemovedTable key={table.id} id={table.id} name={table.name} />
          ))}
        </ul>
      )}
    </section>
  )
}

function RemovedTable({ id, name }: { readonly id: string; readonly name: string }) {
  const { act } = useConsole()
  return (
    <li className="row">
      <span className="soft">{`${name} was removed; its record is kept.`}</span>
      <Button
        look="quiet"
        onClick={() =>
          void act(
            { kind: 'restore-table', ofTableId: id },
            {
              text: `${name} is back.`,
              moves: () => [{ kind: 'remove-table', ofTableId: id }],
            },
          )
        }
      >
        {`Bring ${name} back`}
      </Button>
    </li>
  )
}

/** For a table that works on paper, or whose phones do not get in. */
function AddTable() {
  const { act, busy } = useConsole()
  const [open, setOpen] = useState(false)
  const [name, setName] = useState('')
  const [missing, setMissing] = useState(false)
  const add = async () => {
    const words = name.trim()
    setMissing(words === '')
    if (words === '') return
    const id = newId()
    const added = await act(
      { kind: 'add-table', newTableId: id, name: words },
      { text: `${words} is added.`, moves: () => [{ kind: 'remove-table', ofTableId: id }] },
    )
    if (added) setName('')
  }
  if (!open)
    return (
      <Button look="quiet" onClick={() => setOpen(true)}>
        Add a table without a phone
      </Button>
    )
  return (
    <Form onSubmit={() => void add()}>
      <div className="console-nudge">
        <TextField
          label="Name of the table"
          value={name}
          onChange={setName}
          error={missing ? 'Give the table a name.' : null}
        />
        <Button type="submit" busy={busy}>
          Add table
        </Button>
      </div>
    </Form>
  )
}
