import { useState } from 'react'
import type { Person } from '../../domain/record.ts'
import { formatDate } from '../lib/dates.ts'
import { useQuery } from '../lib/query.ts'
import { useCan, useMe } from '../lib/session.ts'
import { Button } from '../ui/Button.tsx'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { NewPersonDialog } from './NewPersonDialog.tsx'
import { PersonDialog } from './PersonDialog.tsx'
import { ROLE_WORDS } from './roles.ts'
import './people.css'

const byName = (a: Person, b: Person) => a.name.localeCompare(b.name)

function standOf({ closedAt, email, role }: Person): string {
  if (closedAt !== null) return `Account closed on ${formatDate(closedAt)}.`
  if (email === null) return 'Is named in records.'
  const { name, does } = ROLE_WORDS[role]
  return `${name}. ${does}`
}

/** Who works here and what each may do; the owner makes, changes and closes accounts. */
export function PeoplePage() {
  const query = useQuery('GET /api/people')
  const me = useMe()
  const mayManage = useCan('owner')
  const [open, setOpen] = useState<Person | 'new' | null>(null)
  const done = () => {
    setOpen(null)
    query.reload()
  }

  return (
    <Loaded query={query} what="the people">
      {({ people }) => {
        const working = people.filter((person) => person.closedAt === null).sort(byName)
        const closed = people.filter((person) => person.closedAt !== null).sort(byName)
        return (
          <Page
            title="People"
            lead={
              <p>
                Who works with Pawl here, and what each may do. The record keeps the names of people
                who have left.
              </p>
            }
            actions={
              mayManage && (
                <Button look="main" onClick={() => setOpen('new')}>
                  Add a person
                </Button>
              )
            }
          >
            <ul className="bare people">
              {[...working, ...closed].map((person) => (
                <li key={person.id} className={person.closedAt === null ? undefined : 'closed'}>
                  <div>
                    <h2>
                      {person.name}
                      {person.id === me.id && <span className="soft you"> (you)</span>}
                    </h2>
                    <p className="small soft">
                      {person.email ?? 'No account'}
                      {person.origin === 'example' && ', invented'}
                    </p>
                  </div>
                  <p>{standOf(person)}</p>
                  {mayManage && (
                    <Button onClick={() => setOpen(person)}>
                      Change
                      <span className="hidden-text">{` ${person.name}`}</span>
                    </Button>
                  )}
                </li>
              ))}
            </ul>
            {open === 'new' && <NewPersonDialog onClose={() => setOpen(null)} onDone={done} />}
            {open !== null && open !== 'new' && (
              <PersonDialog
                person={open}
                onClose={() => setOpen(null)}
                onDone={done}
                onGone={query.reload}
              />
            )}
          </Page>
        )
      }}
    </Loaded>
  )
}
