import '../../chart/chart.css'
import '../../measure/measure.css'
import './wrap-up.css'
import type { ReactNode } from 'react'
import type { RoomState, TableState } from '../../../domain/workshop/room-state.ts'
import { hasBegun } from '../../../domain/workshop/wrap-up-rounds.ts'
import { formatDate } from '../../lib/dates.ts'
import { useQuery } from '../../lib/query.ts'
import { Button } from '../../ui/Button.tsx'
import { Notice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { Loaded } from '../../ui/Waiting.tsx'

export interface WrapUpFrameProps {
  readonly roomId: string
  readonly title: (state: RoomState) => string
  readonly crumbs: (state: RoomState) => readonly { label: string; href: string }[]
  readonly lead: (state: RoomState) => ReactNode
  readonly children: (state: RoomState) => ReactNode
}

/** What the pages of the wrap-up share: the room, where the page is, and how to print it. */
export function WrapUpFrame({ roomId, title, crumbs, lead, children }: WrapUpFrameProps) {
  const query = useQuery('GET /api/rooms/:id/wrap-up', { id: roomId })
  return (
    <div className="wrap-up">
      <Loaded query={query} what="the workshop">
        {(state) => (
          <Page
            title={title(state)}
            crumbs={[{ label: 'Workshops', href: '/workshops' }, ...crumbs(state)]}
            lead={lead(state)}
            actions={<Button onClick={() => window.print()}>Print or save as PDF</Button>}
          >
            {state.room.closedAt === null && (
              <div className="wrap-open">
                <Notice kind="care">
                  <p>
                    The workshop is still open, so the figures may change; only coaches and owners
                    see this page until it is closed.
                  </p>
                  <Button className="wrap-screen" onClick={query.reload}>
                    Read again
                  </Button>
                </Notice>
              </div>
            )}
            {children(state)}
          </Page>
        )}
      </Loaded>
    </div>
  )
}

const count = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`

/** The kit, the day and the size of a workshop in one line. @param tables Those the page is about. */
export function roomLine({ room }: RoomState, tables: readonly TableState[]): string {
  const there = tables.filter((table) => !table.removed)
  const rounds = Math.max(
    0,
    ...there.flatMap((t) => t.rounds.filter(hasBegun).map((r) => r.number)),
  )
  const size = `${tables.length === 1 ? '' : `${count(there.length, 'table')}, `}${count(rounds, 'round')}`
  return `${room.kit.name}, ${formatDate(room.openedAt)}. ${capital(size)}. A classroom task: it says nothing of any ward.`
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
