import { useEffect, useMemo } from 'react'
import type { Moment } from '../../../domain/workshop/room.ts'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { roundRows } from '../../../domain/workshop/wrap-up-rounds.ts'
import type { FeedStatus } from '../lib/room-feed.ts'
import { ScreenFrame } from './ScreenFrame.tsx'
import {
  ScreenCompare,
  ScreenJoin,
  type ScreenMomentProps,
  ScreenPredict,
  ScreenRunning,
} from './ScreenMoments.tsx'
import { useTicking } from './use-ticking.ts'

export interface RoomScreenProps {
  readonly state: RoomState
  readonly status: FeedStatus
  readonly serverNow: () => number
  readonly origin: string
}

const MOMENT_PAGES: Readonly<Record<Moment, (props: ScreenMomentProps) => React.ReactNode>> = {
  join: ScreenJoin,
  predict: ScreenPredict,
  running: ScreenRunning,
  compare: ScreenCompare,
  debrief: ScreenCompare,
  'wrap-up': ScreenCompare,
}

/** What the class sees on the wall: it follows the moment of the lesson and needs no hand. */
export function RoomScreen({ state, status, serverNow, origin }: RoomScreenProps) {
  const { room } = state
  const counts = room.countdown !== null && room.closedAt === null
  useTicking(counts ? 200 : null)
  // Pictures are laid out again only when the record changes, not at every tick.
  const rows = useMemo(() => roundRows(state), [state])
  useEffect(() => {
    document.title = `${room.name} – Pawl`
  }, [room.name])
  const Page = MOMENT_PAGES[room.moment]
  return (
    <main className="room-screen" data-moment={room.moment}>
      {room.closedAt === null ? (
        <Page state={state} rows={rows} now={serverNow()} origin={origin} />
      ) : (
        <ScreenFrame title="This workshop is closed" aside={room.kit.name}>
          <p className="screen-soft">Thank you. Every table’s record is kept.</p>
        </ScreenFrame>
      )}
      <p className="screen-status" role="status">
        {status === 'lost' &&
          'The connection is lost. This is the last picture that arrived; it comes back by itself.'}
      </p>
    </main>
  )
}
