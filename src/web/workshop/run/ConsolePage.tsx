import './screen.css'
import './console.css'
import type { Id } from '../../../domain/record.ts'
import { useCan } from '../../lib/session.ts'
import { Button } from '../../ui/Button.tsx'
import { ErrorNotice, Notice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { Waiting } from '../../ui/Waiting.tsx'
import { useRoom } from '../lib/room-feed.ts'
import { ConsoleView } from './ConsoleView.tsx'

const CRUMBS = [{ label: 'Workshops', href: '/workshops' }]

/** The facilitator's console: the whole class on one screen. */
export function ConsolePage({ roomId }: { roomId: Id }) {
  const mayLead = useCan('coach')
  if (!mayLead)
    return (
      <Page title="Workshop" crumbs={CRUMBS}>
        <Notice>
          <p>Only coaches and owners lead a workshop. Ask one of them to open it to you.</p>
        </Notice>
      </Page>
    )
  return <LiveConsole roomId={roomId} />
}

function LiveConsole({ roomId }: { roomId: Id }) {
  const { state, status, error, serverNow } = useRoom(roomId)
  if (state === null)
    return (
      <Page title="Workshop" crumbs={CRUMBS}>
        {error === null ? (
          <Waiting what="the workshop" lines={5} />
        ) : (
          <ErrorNotice error={error}>
            <Button onClick={() => location.reload()}>Load the page again</Button>
          </ErrorNotice>
        )}
      </Page>
    )
  return (
    <ConsoleView
      state={state}
      status={status}
      error={error}
      serverNow={serverNow}
      origin={location.origin}
    />
  )
}
