import '../chart/chart.css'
import './calibration.css'
import { useState } from 'react'
import { useSearch } from 'wouter'
import type { CalibrationReply } from '../../api/finding-contract.ts'
import { type Query, useQuery } from '../lib/query.ts'
import { atLeast, useMe } from '../lib/session.ts'
import { Page } from '../ui/Page.tsx'
import { Select } from '../ui/Select.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { CalibrationView } from './CalibrationView.tsx'
import { RoomCalibration } from './RoomCalibration.tsx'

/** How predictions came out: for oneself, a project, a unit, a workshop, or everybody. */
export function CalibrationPage() {
  const me = useMe()
  const units = useQuery('GET /api/units')
  const people = useQuery('GET /api/people')
  const rooms = useQuery('GET /api/rooms')
  const asked = new URLSearchParams(useSearch())
  const [scope, setScope] = useState(() => {
    const room = asked.get('workshop')
    return room === null ? `person ${me.id}` : `workshop ${room}`
  })
  const [kind, id] = scope.split(' ') as [string, string]
  const mayCoach = atLeast(me.role, 'coach')
  const others = mayCoach ? (people.data?.people ?? []).filter((p) => p.id !== me.id) : []
  const options = [
    { value: `person ${me.id}`, label: 'My own' },
    { value: 'organisation all', label: 'Everybody' },
    ...(units.data?.units ?? []).map((u) => ({ value: `unit ${u.id}`, label: `Unit: ${u.name}` })),
    ...(units.data?.projects ?? []).map((p) => ({
      value: `project ${p.id}`,
      label: `Project: ${p.name}`,
    })),
    ...(rooms.data?.rooms ?? [])
      .filter((room) => mayCoach || room.closedAt !== null)
      .map((room) => ({ value: `workshop ${room.id}`, label: `Workshop: ${room.name}` })),
    ...others.map((p) => ({ value: `person ${p.id}`, label: `Person: ${p.name}` })),
  ]
  return (
    <Page
      title="Predictions"
      lead={<p>Whether predictions are getting better: they should narrow, and still hold.</p>}
    >
      <div className="stack loose fill calibration">
        <div className="calibration-choice">
          <Select label="Whose predictions" value={scope} options={options} onChange={setScope} />
          <p className="small soft">{whoSees(kind)}</p>
        </div>
        {kind === 'person' ? (
          <OfPerson key={id} id={id} />
        ) : kind === 'unit' ? (
          <OfUnit key={id} id={id} />
        ) : kind === 'project' ? (
          <OfProject key={id} id={id} />
        ) : kind === 'workshop' ? (
          <RoomCalibration key={id} roomId={id} firstTable={asked.get('table')} />
        ) : (
          <OfEverybody />
        )}
      </div>
    </Page>
  )
}

/** Said on the page, since people predict more freely where they know who looks. */
function whoSees(kind: string): string {
  if (kind === 'workshop')
    return 'Seen by coaches and owners; by everybody with an account once the workshop is closed.'
  return kind === 'person'
    ? 'The tests that this person locked. Seen by this person, coaches and owners; by nobody else.'
    : 'Seen by everybody with an account. It names no person, but a test page says who locked it.'
}

const OfPerson = ({ id }: { readonly id: string }) => (
  <Shown query={useQuery('GET /api/calibration/people/:id', { id })} />
)
const OfUnit = ({ id }: { readonly id: string }) => (
  <Shown query={useQuery('GET /api/calibration/units/:id', { id })} />
)
const OfProject = ({ id }: { readonly id: string }) => (
  <Shown query={useQuery('GET /api/calibration/projects/:id', { id })} />
)
const OfEverybody = () => <Shown query={useQuery('GET /api/calibration/organisation')} />

function Shown({ query }: { readonly query: Query<CalibrationReply> }) {
  return (
    <Loaded query={query} what="the predictions">
      {(reply) => <CalibrationView reply={reply} />}
    </Loaded>
  )
}
