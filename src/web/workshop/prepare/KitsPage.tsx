import { Link } from 'wouter'
import { useCan } from '../../lib/session.ts'
import { LinkButton } from '../../ui/Button.tsx'
import { Page } from '../../ui/Page.tsx'
import { Section } from '../../ui/Section.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import { KitCardFigure } from './KitCardFigure.tsx'
import { type KitEntry, useKits } from './kit-entries.ts'
import './prepare.css'

/** Every kit there is, with its card. */
export function KitsPage() {
  const kits = useKits()
  const mayWrite = useCan('coach')
  return (
    <Loaded query={kits} what="the kits">
      {(entries) => {
        const own = entries.filter((entry) => entry.own !== null)
        return (
          <Page
            title="Kits"
            crumbs={[{ label: 'Workshops', href: '/workshops' }]}
            lead={<p>A kit is a small task that a table does again and again against the clock.</p>}
            actions={mayWrite && <LinkButton href="/workshops/kits/new">Write a kit</LinkButton>}
          >
            {own.length > 0 && (
              <Section title="Written here" wide>
                <KitList entries={own} />
              </Section>
            )}
            <Section
              title="Come with Pawl"
              aside={<p>Everyday materials. Copy one to change it.</p>}
              wide
            >
              <KitList entries={entries.filter((entry) => entry.own === null)} />
            </Section>
          </Page>
        )
      }}
    </Loaded>
  )
}

function KitList({ entries }: { entries: readonly KitEntry[] }) {
  return (
    <ul className="bare kit-list">
      {entries.map(({ key, kit }) => (
        <li key={key}>
          <div className="kit-list-picture" aria-hidden="true">
            <KitCardFigure card={kit.card} name={kit.name} bare />
          </div>
          <Link href={`/workshops/kits/${key}`}>{kit.name}</Link>
          <p className="small">{kit.summary}</p>
          <p className="small soft">{`${kit.checklist.length} items to inspect`}</p>
        </li>
      ))}
    </ul>
  )
}
