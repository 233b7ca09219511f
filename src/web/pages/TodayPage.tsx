import { useState } from 'react'
import { useQuery } from '../lib/query.ts'
import { atLeast, useMe, useSession } from '../lib/session.ts'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { ExampleLine } from './ExampleLine.tsx'
import { FirstSteps } from './FirstSteps.tsx'
import { OpenWorkshops } from './OpenWorkshops.tsx'
import { TodayList } from './TodayList.tsx'
import './today.css'

const dayFormat = new Intl.DateTimeFormat(undefined, {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
})

const NUMBERS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine']

const countText = (n: number) => `${NUMBERS[n] ?? n} ${n === 1 ? 'thing waits' : 'things wait'}`

/** What waits for somebody, longest first, one action each. */
export function TodayPage() {
  const me = useMe()
  const { reply } = useSession()
  const today = useQuery('GET /api/today')
  const units = useQuery('GET /api/units')
  const [now] = useState(() => new Date())
  const readAgain = () => {
    today.reload()
    units.reload()
  }
  const example = reply?.example === 'present'

  return (
    <Loaded query={today} what="what waits">
      {({ items }) => {
        const own = (units.data?.projects ?? []).filter((project) => project.origin === 'own')
        const fresh = units.data !== undefined && own.length === 0
        return (
          <Page
            title="Today"
            lead={
              <p>
                {`${dayFormat.format(now)}. `}
                {items.length === 0 ? 'Nothing waits for you.' : `${countText(items.length)}.`}
              </p>
            }
          >
            <div className="stack loose fill">
              <OpenWorkshops />
              {items.length > 0 && (
                <TodayList items={items} mayWrite={atLeast(me.role, 'member')} />
              )}
              {example && <ExampleLine reload={readAgain} />}
              {fresh && <FirstSteps units={units.data?.units ?? []} example={example} />}
            </div>
          </Page>
        )
      }}
    </Loaded>
  )
}
