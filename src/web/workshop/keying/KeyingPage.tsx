import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react'
import { Link } from 'wouter'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { Button } from '../../ui/Button.tsx'
import { Field } from '../../ui/Field.tsx'
import { ErrorNotice, Notice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { Waiting } from '../../ui/Waiting.tsx'
import { useRoom } from '../lib/room-feed.ts'
import { useMoves } from '../lib/use-moves.ts'
import { SheetForm } from './SheetForm.tsx'
import { isPlayed } from './sheet.ts'
import './keying.css'

/** Paper sheets of a workshop are entered here, a table at a time, by keyboard alone. */
export function KeyingPage({ roomId }: { roomId: string }) {
  const { state, error } = useRoom(roomId)
  if (state === null)
    return error === null ? (
      <div className="page">
        <Waiting what="the workshop" lines={5} />
      </div>
    ) : (
      <Page title="This page cannot be shown" crumbs={[{ label: 'Workshops', href: '/workshops' }]}>
        <ErrorNotice error={error} />
      </Page>
    )
  return <Keying state={state} />
}

function Keying({ state }: { state: RoomState }) {
  const { room, viewer } = state
  const moves = useMoves(room.id)
  const [typed, setTyped] = useState('')
  const [name, setName] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const input = useRef<HTMLInputElement>(null)
  const list = useId()
  const tables = state.tables.filter(({ removed }) => !removed)
  useEffect(() => {
    if (name === null) input.current?.focus()
  }, [name])

  const choose = () => {
    if (typed.trim() === '') return
    setSaid('')
    setName(typed.trim())
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== 'Enter') return
    event.preventDefault()
    choose()
  }
  const crumbs = [
    { label: 'Workshops', href: '/workshops' },
    { label: room.name, href: `/workshops/${room.id}` },
  ]
  if (viewer.as !== 'lead')
    return (
      <Page title="Paper sheets are keyed by coaches" crumbs={crumbs}>
        <p>Ask whoever leads the workshop.</p>
      </Page>
    )

  return (
    <Page
      title="Key in paper sheets"
      crumbs={crumbs}
      lead={
        <p>
          One table’s sheet at a time. Enter goes on, Shift and Enter goes back; a round is saved
          when its last cell is left. Control and Enter ends a sheet with fewer rounds. Where a
          sheet says how many items were right, not which, key the count and a question mark.
        </p>
      }
    >
      <div className="stack loose fill">
        {room.closedAt !== null && (
          <Notice kind="care">
            <p>This workshop is over, and takes nothing more. Open it again to key in a sheet.</p>
            <Button
              busy={moves.busy}
              onClick={() =>
                void moves.act(
                  { kind: 'reopen' },
                  { text: 'The workshop is open again.', moves: () => [{ kind: 'close' }] },
                )
              }
            >
              Open it again
            </Button>
          </Notice>
        )}
        {moves.error !== null && <ErrorNotice error={moves.error} />}
        <div className="row keying-table">
          <Field label="Table" hint="A name from the list, or a new one; then Enter.">
            {(control) => (
              <input
                {...control}
                ref={input}
                className="input"
                list={list}
                autoComplete="off"
                maxLength={60}
                value={typed}
                onChange={(event) => {
                  setTyped(event.target.value)
                  if (name !== null) setName(null)
                }}
                onKeyDown={onKeyDown}
              />
            )}
          </Field>
          <datalist id={list}>
            {tables.map((table) => (
              <option key={table.id} value={table.name} />
            ))}
          </datalist>
          {name === null && <Button onClick={choose}>Key its sheet</Button>}
        </div>
        <p role="status" className="keying-said">
          {said}
        </p>
        {name !== null && room.closedAt === null && (
          <SheetForm
            key={name.toLowerCase()}
            state={state}
            name={name}
            onDone={(sentence) => {
              setSaid(sentence)
              setTyped('')
              setName(null)
            }}
          />
        )}
        {name === null && tables.length > 0 && (
          <section className="stack tight">
            <h2>Tables so far</h2>
            <ul>
              {tables.map((table) => (
                <li key={table.id}>
                  <Link href={`/workshops/${room.id}/tables/${table.id}`}>{table.name}</Link>
                  {`: ${table.rounds.filter(isPlayed).length} of ${room.settings.rounds} rounds decided`}
                </li>
              ))}
            </ul>
          </section>
        )}
      </div>
    </Page>
  )
}
