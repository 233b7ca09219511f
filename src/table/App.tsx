import { useState } from 'preact/hooks'
import type { FoundRoom } from '../api/workshop-contract.ts'
import { readCode } from '../domain/workshop/code.ts'
import type { RoomState } from '../domain/workshop/room-state.ts'
import type { AppError } from '../errors.ts'
import { openShelf } from './device.ts'
import { JoinPage } from './JoinPage.tsx'
import { lastSeat, readSeat, type Seat } from './seat.ts'
import { givenRoom } from './server.ts'
import { TablePage } from './TablePage.tsx'

const codeInAddress = () => readCode(/^\/t\/([^/]+)/.exec(location.pathname)?.[1] ?? '') ?? ''

interface Place {
  readonly seat: Seat | null
  readonly state: RoomState | null
  /** What the page came with, for its first showing: later it is old. */
  readonly given?: FoundRoom | AppError | null
}

/** The table page: joining, then a seat at a table. */
export function App() {
  const [{ seat, state, given = null }, setSeat] = useState<Place>(() => ({
    seat: readSeat(openShelf().shelf, codeInAddress()),
    state: null,
    given: givenRoom(),
  }))
  if (seat === null) {
    const code = codeInAddress()
    return (
      <JoinPage
        code={code}
        given={given}
        last={code === '' ? lastSeat(openShelf().shelf) : null}
        onSeat={(taken, joined) => {
          history.replaceState(null, '', `/t/${taken.code}`)
          setSeat({ seat: taken, state: joined })
        }}
      />
    )
  }
  return (
    <TablePage
      key={seat.seatId}
      seat={seat}
      joined={state}
      onLeave={() => setSeat({ seat: null, state: null })}
    />
  )
}
