import { Link } from 'wouter'
import type { RoomBrief } from '../../../api/workshop-contract.ts'
import { formatDate } from '../../lib/dates.ts'
import { useQuery } from '../../lib/query.ts'
import { useCan } from '../../lib/session.ts'
import { LinkButton } from '../../ui/Button.tsx'
import { Page } from '../../ui/Page.tsx'
import { Section } from '../../ui/Section.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import './prepare.css'

/** Every workshop: the open ones first, then those that are over. */
export function WorkshopsPage() {
  const rooms = useQuery('GET /api/rooms')
  const mayLead = useCan('coach')
  return (
    <Loaded query={rooms} what="the workshops">
      {({ rooms: all }) => {
        const newest = [...all].sort((a, b) => b.openedAt.localeCompare(a.openedAt))
        const open = newest.filter(({ closedAt }) => closedAt === null)
        const closed = newest.filter(({ closedAt }) => closedAt !== null)
        return (
          <Page
            title="Workshops"
            lead={
              <p>
                Teams learn to test a change with a small task against the clock, round by round.
              </p>
            }
            actions={
              <>
                {mayLead && (
                  <LinkButton look="main" href="/workshops/new">
                    Prepare a workshop
                  </LinkButton>
                )}
                <LinkButton href="/workshops/kits">Kits</LinkButton>
              </>
            }
          >
            {all.length === 0 && <p>There has been no workshop yet.</p>}
            {open.length > 0 && (
              <Section title="Open" aside={<p>People join with the code.</p>}>
                <ul className="bare room-list">
                  {open.map((room) => (
                    <OpenRoom key={room.id} room={room} mayLead={mayLead} />
                  ))}
                </ul>
              </Section>
            )}
            {closed.length > 0 && (
              <Section title="Over">
                <ul className="bare room-list">
                  {closed.map((room) => (
                    <li key={room.id}>
                      <Link href={`/workshops/${room.id}/wrap-up`}>{nameOf(room)}</Link>
                      <p className="small soft">
                        {`${formatDate(room.openedAt)}, ${factsOf(room)}. ${leadOf(room)}`}
                      </p>
                    </li>
                  ))}
                </ul>
              </Section>
            )}
          </Page>
        )
      }}
    </Loaded>
  )
}

const plural = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`
const nameOf = ({ name, tryOut }: RoomBrief) => (tryOut ? `${name} (try-out)` : name)
const leadOf = ({ facilitatorName }: RoomBrief) => `Led by ${facilitatorName}.`
const factsOf = ({ kitName, unitName, tables, roundsDone }: RoomBrief) =>
  `${kitName}, ${unitName}, ${plural(tables, 'table')}, ${plural(roundsDone, 'round')} done`

function OpenRoom({ room, mayLead }: { room: RoomBrief; mayLead: boolean }) {
  const more = <span className="hidden-text">{` of ${room.name}`}</span>
  return (
    <li>
      {mayLead ? (
        <Link href={`/workshops/${room.id}`}>{nameOf(room)}</Link>
      ) : (
        <strong>{nameOf(room)}</strong>
      )}
      <p>
        Code <strong className="room-code">{room.code}</strong>
      </p>
      <p className="small soft">
        {`Since ${formatDate(room.openedAt)}, ${factsOf(room)}. ${leadOf(room)}`}
      </p>
      <div className="row">
        {/* These two are pages of their own, outside the console. */}
        <a href={`/t/${room.code}`}>Join as a table{more}</a>
        <a href={`/screen/${room.code}`}>Room screen{more}</a>
        {mayLead && (
          <>
            <Link href={`/workshops/${room.id}/print`}>Print{more}</Link>
            <Link href={`/workshops/${room.id}/keying`}>Key in paper sheets{more}</Link>
          </>
        )}
      </div>
    </li>
  )
}
