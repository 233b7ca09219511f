import './wrap-up.css'
import { useSearch } from 'wouter'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { useQuery } from '../../lib/query.ts'
import { useCan } from '../../lib/session.ts'
import { Notice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import { WardForm } from './WardForm.tsx'

/** Opens a real project on a ward from what a workshop showed. */
export function WardPage({ roomId }: { readonly roomId: string }) {
  const room = useQuery('GET /api/rooms/:id/wrap-up', { id: roomId })
  const units = useQuery('GET /api/units')
  return (
    <Loaded query={room} what="the workshop">
      {(state) => (
        <Loaded query={units} what="the units">
          {(reply) => <Begin state={state} units={reply.units} />}
        </Loaded>
      )}
    </Loaded>
  )
}

interface BeginProps {
  readonly state: RoomState
  readonly units: Parameters<typeof WardForm>[0]['units']
}

function Begin({ state, units }: BeginProps) {
  const { room, tables } = state
  const mayOpen = useCan('member')
  const asked = new URLSearchParams(useSearch()).get('table')
  const there = tables.filter((table) => !table.removed)
  return (
    <Page
      title="Take this to the ward"
      crumbs={[
        { label: 'Workshops', href: '/workshops' },
        { label: room.name, href: `/workshops/${room.id}` },
        { label: 'Wrap-up', href: `/workshops/${room.id}/wrap-up` },
      ]}
      lead={<p>Opens a project on a ward with a first test in Plan. Nothing is locked yet.</p>}
    >
      <div className="stack loose">
        <Notice kind="care">
          <p>
            A classroom change is not a ward change. Nobody was cared for at the table: say afresh
            what will be done, on how small a scale, and what could go wrong. The plan asks for the
            local determination and approval before it can be locked; local policy and licensed
            practice come first.
          </p>
        </Notice>
        {!mayOpen ? (
          <p>
            Your account can look, but not open projects. Ask a coach or the owner for another role.
          </p>
        ) : units.length === 0 ? (
          <p>
            A project belongs to a unit, and there is none yet. Ask a coach or the owner to add your
            ward, clinic or team.
          </p>
        ) : (
          <WardForm
            roomId={room.id}
            roomUnitId={room.unitId}
            tables={there}
            units={units}
            first={there.some(({ id }) => id === asked) ? asked : null}
          />
        )}
      </div>
    </Page>
  )
}
