import { useState } from 'react'
import type { TableState } from '../../../domain/workshop/room-state.ts'
import { Button } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { KEYED_FIELDS } from './ConsoleKeys.tsx'
import { tablesIn } from './table-stage.ts'
import { useConsole } from './use-console.ts'

/** Ready sentences, for the hand that has no time to type. */
const READY = [
  'Please lock your prediction.',
  'Two minutes left.',
  'Please stop and inspect.',
  'Please decide now.',
  'I am coming to your table.',
]

/** Sends a sentence to one table's phones, or to all. */
export function NudgeForm({ table }: { table: TableState | null }) {
  const { state, act, busy } = useConsole()
  const [text, setText] = useState('')
  const [missing, setMissing] = useState(false)
  const whom = table === null ? 'all tables' : table.name
  const send = async (words: string) => {
    setMissing(words.trim() === '')
    if (words.trim() === '') return
    const before = (table === null ? tablesIn(state) : [table]).map(({ id, nudge }) => ({
      kind: 'nudge' as const,
      toTableId: id,
      text: nudge?.text ?? '',
    }))
    const sent = await act(
      { kind: 'nudge', toTableId: table?.id ?? null, text: words.trim() },
      { text: `Sent to ${whom}.`, moves: () => before },
    )
    if (sent) setText('')
  }
  return (
    <div className="stack tight fill">
      <Form onSubmit={() => void send(text)}>
        <div className="console-nudge">
          <TextField
            label={`Nudge ${whom}`}
            name={table === null ? KEYED_FIELDS.nudge : `nudge-${table.id}`}
            value={text}
            onChange={setText}
            error={missing ? 'Write what the phones are to show.' : null}
          />
          <Button type="submit" busy={busy}>
            Send
          </Button>
        </div>
      </Form>
      <ul className="console-ready bare">
        {READY.map((words) => (
          <li key={words}>
            <Button look="quiet" className="small" onClick={() => void send(words)}>
              {words}
            </Button>
          </li>
        ))}
      </ul>
    </div>
  )
}
