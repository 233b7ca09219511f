import '../../chart/chart.css'
import './screen.css'
import { useCallback, useEffect, useState } from 'react'
import { useLocation } from 'wouter'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import type { AppError } from '../../../errors.ts'
import { asAppError } from '../../lib/api.ts'
import { isUnreachable } from '../../lib/refusals.ts'
import { FrontDoor } from '../../shell/FrontDoor.tsx'
import { Button } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { ErrorNotice } from '../../ui/Notice.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { Waiting } from '../../ui/Waiting.tsx'
import { useRoom } from '../lib/room-feed.ts'
import { RoomScreen } from './RoomScreen.tsx'
import { takeScreenSeat, tidyCode } from './screen-seat.ts'
import { useWakeLock } from './use-wake-lock.ts'

/** A projector has nobody at its keyboard, so it tries again by itself. */
const TRY_AGAIN = 4000

/** The room screen at `/screen/CODE`: no sign-in, nothing private. */
export function ScreenPage({ code: typed }: { code: string }) {
  const code = tidyCode(typed)
  const [joined, setJoined] = useState<RoomState | null>(null)
  const [error, setError] = useState<AppError | null>(null)
  const join = useCallback(() => {
    takeScreenSeat(code).then(
      (state) => {
        setJoined(state)
        setError(null)
      },
      (thrown) => setError(asAppError(thrown)),
    )
  }, [code])
  useEffect(join, [join])
  useEffect(() => {
    if (error === null || !isUnreachable(error)) return
    const timer = setTimeout(join, TRY_AGAIN)
    return () => clearTimeout(timer)
  }, [error, join])

  if (joined !== null) return <LiveScreen key={joined.room.id} first={joined} onAgain={join} />
  if (error !== null) return <WrongCode code={code} error={error} onAgain={join} />
  return (
    <FrontDoor title="Room screen">
      <Waiting what="the workshop" />
    </FrontDoor>
  )
}

interface LiveScreenProps {
  readonly first: RoomState
  readonly onAgain: () => void
}

function LiveScreen({ first, onAgain }: LiveScreenProps) {
  const { state, status, error, serverNow } = useRoom(first.room.id, first)
  useWakeLock()
  // A seat that the server no longer knows, such as after the facilitator removed it.
  if (error !== null) return <WrongCode code={first.room.code} error={error} onAgain={onAgain} />
  return (
    <RoomScreen
      state={state ?? first}
      status={status}
      serverNow={serverNow}
      origin={location.origin}
    />
  )
}

interface WrongCodeProps {
  readonly code: string
  readonly error: AppError
  readonly onAgain: () => void
}

/** Says what is wrong with the code and takes another one. */
function WrongCode({ code, error, onAgain }: WrongCodeProps) {
  const [, navigate] = useLocation()
  const [typed, setTyped] = useState(code)
  const [missing, setMissing] = useState(false)
  const away = isUnreachable(error)
  const open = () => {
    const next = tidyCode(typed)
    setMissing(next === '')
    if (next === code) onAgain()
    else if (next !== '') navigate(`/screen/${encodeURIComponent(next)}`)
  }
  return (
    <FrontDoor title="Room screen">
      <ErrorNotice error={error}>{away && <p>It is tried again every few seconds.</p>}</ErrorNotice>
      <Form onSubmit={open}>
        <TextField
          label="Code of the workshop"
          hint="Six letters and digits; the facilitator’s console shows them."
          value={typed}
          onChange={setTyped}
          error={missing ? 'Type the code of the workshop.' : null}
          short
        />
        <Button look="main" type="submit">
          Open the room screen
        </Button>
      </Form>
    </FrontDoor>
  )
}
