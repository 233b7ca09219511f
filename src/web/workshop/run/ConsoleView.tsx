import { useMemo } from 'react'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import type { AppError } from '../../../errors.ts'
import { Button } from '../../ui/Button.tsx'
import { ErrorNotice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import type { FeedStatus } from '../lib/room-feed.ts'
import { useMoves } from '../lib/use-moves.ts'
import { ConsoleDoor } from './ConsoleDoor.tsx'
import { ConsoleKeys } from './ConsoleKeys.tsx'
import { ConsoleLesson } from './ConsoleLesson.tsx'
import { ConsoleNotes } from './ConsoleNotes.tsx'
import { ConsoleTables } from './ConsoleTables.tsx'
import { ConsoleTalk } from './ConsoleTalk.tsx'
import { ConsoleContext } from './use-console.ts'

export interface ConsoleViewProps {
  readonly state: RoomState
  readonly status: FeedStatus
  /** Why the feed is refused; the last state stays in view. */
  readonly error: AppError | null
  readonly serverNow: () => number
  readonly origin: string
}

export function ConsoleView({ state, status, error, serverNow, origin }: ConsoleViewProps) {
  const { id, name, kit, closedAt } = state.room
  const moves = useMoves(id)
  const { act, busy } = moves
  const tools = useMemo(() => ({ state, act, busy, serverNow }), [state, act, busy, serverNow])
  const close = () =>
    void act(
      { kind: closedAt === null ? 'close' : 'reopen' },
      {
        text: closedAt === null ? 'The workshop is closed.' : 'The workshop is open again.',
        moves: () => [{ kind: closedAt === null ? 'reopen' : 'close' }],
      },
    )
  return (
    <ConsoleContext value={tools}>
      <Page
        title={name}
        heading={
          <>
            {name} <span className="console-kit">{kit.name}</span>
          </>
        }
        actions={
          <ConsoleDoor origin={origin}>
            <Button look={closedAt === null ? 'quiet' : 'main'} className="small" onClick={close}>
              {closedAt === null ? 'Close the workshop' : 'Open it again'}
            </Button>
          </ConsoleDoor>
        }
      >
        <div className="console-messages">
          <p role="status" className="save-line problem">
            {status === 'lost' && 'The connection is lost; it comes back by itself.'}
          </p>
          {closedAt !== null && (
            <p>The workshop is closed: phones can look, and send only what they did before.</p>
          )}
          {error !== null && <ErrorNotice error={error} />}
          {moves.error !== null && (
            <ErrorNotice error={moves.error}>
              <div className="row">
                {moves.retry !== null && <Button onClick={moves.retry}>Send it again</Button>}
                <Button look="quiet" onClick={moves.clear}>
                  Close
                </Button>
              </div>
            </ErrorNotice>
          )}
        </div>
        <div className="console">
          <ConsoleLesson />
          <ConsoleTables />
          <ConsoleTalk />
          <ConsoleNotes />
        </div>
        <ConsoleKeys />
      </Page>
    </ConsoleContext>
  )
}
