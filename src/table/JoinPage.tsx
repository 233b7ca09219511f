import { useLayoutEffect, useState } from 'preact/hooks'
import type { FoundRoom } from '../api/workshop-contract.ts'
import { readCode } from '../domain/workshop/code.ts'
import type { RoomState } from '../domain/workshop/room-state.ts'
import { AppError } from '../errors.ts'
import { newId, openShelf } from './device.ts'
import { ready } from './ready.ts'
import { Button, FieldError, focusOn, Screen, TextField } from './Screen.tsx'
import { keepSeat, type Seat } from './seat.ts'
import { ask } from './server.ts'

interface JoinPageProps {
  readonly code: string
  /** What that code opens, where it is known already. */
  readonly given: FoundRoom | AppError | null
  /** The seat this phone took last, where no code was given. */
  readonly last: Seat | null
  readonly onSeat: (seat: Seat, state: RoomState | null) => void
}

/** Joining: the code, then a table. No account, and no name needed. */
export function JoinPage({ code: own, given, last, onSeat }: JoinPageProps) {
  const refused = given instanceof AppError
  const [code, setCode] = useState(own)
  const [found, setFound] = useState(refused ? null : given)
  const [busy, setBusy] = useState(own !== '' && given === null)
  const [error, setError] = useState(refused ? textOf(given) : undefined)

  async function find(typed: string) {
    setBusy(true)
    setError(undefined)
    try {
      setFound(await ask('POST /api/rooms/find', '', { code: typed }))
    } catch (problem) {
      setError(textOf(problem))
      focusOn('code')
    }
    setBusy(false)
    ready()
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: the code of the address is looked up once.
  useLayoutEffect(() => {
    if (busy) return void find(own)
    if (refused) focusOn('code')
    ready()
  }, [])

  if (found !== null)
    return <TableChoice code={code} room={found} onSeat={onSeat} onBack={() => setFound(null)} />
  return (
    <main tabIndex={-1}>
      <Screen
        name="code"
        title={busy ? 'Looking for the room' : 'Join your table'}
        controls={
          <form
            onSubmit={(event) => {
              event.preventDefault()
              const read = readCode(code)
              if (read !== null) {
                setCode(read)
                return void find(read)
              }
              setError('A code has six letters and digits. Check each one.')
              focusOn('code')
            }}
          >
            <TextField
              id="code"
              class="code"
              label="Code on the room screen"
              value={code}
              error={error}
              onText={setCode}
            />
            <button type="submit" class="main" disabled={busy}>
              Find the room
            </button>
            {last !== null && (
              <Button onClick={() => onSeat(last, null)}>Back to table {last.tableName}</Button>
            )}
          </form>
        }
      >
        <p>No account is needed. Do not write anything about a real patient here.</p>
      </Screen>
    </main>
  )
}

interface TableChoiceProps {
  readonly code: string
  readonly room: FoundRoom
  readonly onSeat: JoinPageProps['onSeat']
  readonly onBack: () => void
}

function TableChoice({ code, room, onSeat, onBack }: TableChoiceProps) {
  const [tableId, setTableId] = useState<string | null>(null)
  const [isNew, setNew] = useState(room.tables.length === 0)
  const [tableName, setTableName] = useState('')
  const [number, setNumber] = useState('')
  const [asked, setAsked] = useState(false)
  const [name, setName] = useState('')
  const [error, setError] = useState<string>()
  const [busy, setBusy] = useState(false)

  const chosen = room.tables.find(({ id }) => id === tableId)
  // The list may be older than the table's first phone.
  const asks = !isNew && (asked || chosen?.needsNumber)

  async function join() {
    if (!isNew && tableId === null) {
      setError('Choose your table first.')
      return focusOn('tables')
    }
    if (isNew && tableName.trim() === '') {
      setError('Give the table a name, such as a bird or a colour.')
      return focusOn('table-name')
    }
    setBusy(true)
    const body = { code, seatId: newId(), as: 'table' as const, name: name.trim() }
    try {
      const state = await ask('POST /api/rooms/join', '', {
        ...body,
        tableId: isNew ? null : tableId,
        tableName: isNew ? tableName.trim() : (chosen?.name ?? ''),
        tableNumber: number,
      })
      const { viewer } = state
      if (viewer.as !== 'table') return
      const table = state.tables.find(({ id }) => id === viewer.tableId)
      const seat: Seat = {
        ...{ roomId: state.room.id, code, seatId: viewer.seatId, tableId: viewer.tableId },
        ...{ tableName: table?.name ?? tableName, name: name.trim(), roles: [] },
      }
      keepSeat(openShelf().shelf, seat)
      onSeat(seat, state)
    } catch (problem) {
      setError(textOf(problem))
      setBusy(false)
      const inUse = (problem as AppError).details?.['tableId'] as string | undefined
      if (inUse === undefined) return focusOn(isNew ? 'table-name' : 'tables')
      setAsked(true)
      setTableId(inUse)
      setNew(false)
      focusOn('table-number')
    }
  }

  return (
    <main tabIndex={-1}>
      <p class="where">{room.name}</p>
      <Screen
        name="table"
        title="Which table are you at?"
        controls={
          <form
            onSubmit={(event) => {
              event.preventDefault()
              if (!busy) void join()
            }}
          >
            <fieldset class="choices" id="tables" tabIndex={-1} aria-describedby="tables-error">
              <legend class="hidden">Table</legend>
              {room.tables.map(({ id, name: known, seats }) => (
                <label key={id} class="choice">
                  <input
                    type="radio"
                    name="table"
                    checked={!isNew && tableId === id}
                    onChange={() => {
                      setTableId(id)
                      setNew(false)
                      setError(undefined)
                    }}
                  />
                  <span>
                    {known}{' '}
                    <small>
                      {seats} {seats === 1 ? 'phone' : 'phones'}
                    </small>
                  </span>
                </label>
              ))}
              <label class="choice">
                <input type="radio" name="table" checked={isNew} onChange={() => setNew(true)} />
                <span>A new table</span>
              </label>
            </fieldset>
            {isNew && (
              <TextField
                id="table-name"
                label="Name of the table"
                value={tableName}
                error={error}
                onText={setTableName}
              />
            )}
            {asks ? (
              <TextField
                id="table-number"
                label="Number of the table, from a phone there"
                value={number}
                error={error}
                onText={setNumber}
              />
            ) : (
              <FieldError id="tables" error={isNew ? undefined : error} />
            )}
            <TextField
              id="first-name"
              label="First name or role, if you like"
              value={name}
              onText={setName}
            />
            <button type="submit" class="main">
              Join
            </button>
            <Button as="link" onClick={onBack}>
              Another code
            </Button>
          </form>
        }
      >
        <p>{room.kitName}</p>
      </Screen>
    </main>
  )
}

const textOf = (problem: unknown) =>
  problem instanceof AppError ? `${problem.message} ${problem.hint}` : String(problem)
