import { LinkButton } from '../../ui/Button.tsx'
import { Page } from '../../ui/Page.tsx'

/** An address that names no kit: a mistyped one, or one of a kit that was removed. */
export function KitMissing() {
  return (
    <Page title="There is no such kit" crumbs={[{ label: 'Workshops', href: '/workshops' }]}>
      <div className="stack">
        <p>The address is wrong, or the kit was removed.</p>
        <LinkButton href="/workshops/kits">All kits</LinkButton>
      </div>
    </Page>
  )
}
