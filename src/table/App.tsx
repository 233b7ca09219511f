import { useState } from 'preact/hooks'
import { readCode } from '../domain/workshop/code.ts'
import type { RoomState } from '../domain/workshop/room-state.ts'
import { openShelf } from './device.ts'
import { JoinPage } from './JoinPage.tsx'
import { lastSeat, readSeat, type Seat } from './seat.ts'
import { TablePage } from './TablePage.tsx'

const codeInAddress = () => readCode(/^\/t\/([^/]+)/.exec(location.pathname)?.[1] ?? '') ?? ''

/** The table page: joining, then a seat at a table. */
export function App() {
  const [{ seat, state }, setSeat] = useState<{ seat: Seat | null; state: RoomState | null }>(
    () => ({ seat: readSeat(openShelf().shelf, codeInAddress()), state: null }),
  )
  if (seat === null) {
    const last = codeInAddress() === '' ? lastSeat(openShelf().shelf) : null
    return (
      <JoinPage
        code={codeInAddress()}
        last={last}
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
