import { Link } from 'wouter'
import { useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'

/** Workshops that are open now, one line each; nothing where there is none. */
export function OpenWorkshops() {
  const { data } = useQuery('GET /api/rooms')
  const mayLead = useCan('coach')
  const open = (data?.rooms ?? []).filter(({ closedAt, tryOut }) => closedAt === null && !tryOut)
  return open.map(({ id, name, code }) => (
    <p key={id}>
      {`The workshop “${name}” is open with the code `}
      <strong>{code}</strong>
      {'. '}
      {mayLead ? (
        <Link href={`/workshops/${id}`}>{`Go to ${name}`}</Link>
      ) : (
        <Link href="/workshops">All workshops</Link>
      )}
    </p>
  ))
}
