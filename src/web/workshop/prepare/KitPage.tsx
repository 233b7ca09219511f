import { useLocation } from 'wouter'
import type { KitReply } from '../../../api/workshop-contract.ts'
import { call } from '../../lib/api.ts'
import { patchQuery } from '../../lib/query.ts'
import { useCan } from '../../lib/session.ts'
import { offerUndo } from '../../lib/undo.ts'
import { useAction } from '../../lib/use-action.ts'
import { Button, LinkButton } from '../../ui/Button.tsx'
import { ErrorNotice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import { KitMissing } from './KitMissing.tsx'
import { KitRead } from './KitRead.tsx'
import { type KitEntry, useKits } from './kit-entries.ts'
import './prepare.css'

/** One kit: to read, copy, print, and, where it was written here, to change or remove. */
export function KitPage({ kitKey }: { kitKey: string }) {
  const kits = useKits()
  return (
    <Loaded query={kits} what="the kit">
      {(entries) => {
        const entry = entries.find(({ key }) => key === kitKey)
        return entry === undefined ? <KitMissing /> : <Shown entry={entry} />
      }}
    </Loaded>
  )
}

function Shown({ entry: { key, kit, own } }: { entry: KitEntry }) {
  const mayWrite = useCan('coach')
  const [, navigate] = useLocation()
  const removal = useAction()

  const remove = (reply: KitReply) =>
    removal.run(async () => {
      const { id, version } = reply
      await call('DELETE /api/kits/:id', { params: { id }, body: { version } })
      navigate('/workshops/kits')
      patchQuery('GET /api/kits', {}, ({ kits }) => ({ kits: kits.filter((k) => k.id !== id) }))
      // After the next page has come, since leaving a page closes the offer.
      setTimeout(() =>
        offerUndo(`“${kit.name}” is removed.`, async () => {
          const back = await call('POST /api/kits', { body: { id, kit } })
          patchQuery('GET /api/kits', {}, ({ kits }) => ({ kits: [...kits, back] }))
        }),
      )
    })

  return (
    <Page
      title={kit.name}
      crumbs={[
        { label: 'Workshops', href: '/workshops' },
        { label: 'Kits', href: '/workshops/kits' },
      ]}
      lead={<p>{kit.summary}</p>}
    >
      <div className="row kit-actions">
        {mayWrite && (
          <LinkButton look="main" href={`/workshops/new?kit=${key}`}>
            Prepare a workshop with it
          </LinkButton>
        )}
        <LinkButton href={`/workshops/kits/${key}/print`}>Print</LinkButton>
        {mayWrite && own !== null && (
          <LinkButton href={`/workshops/kits/${key}/edit`}>Change</LinkButton>
        )}
        {mayWrite && <LinkButton href={`/workshops/kits/${key}/copy`}>Copy and change</LinkButton>}
        {mayWrite && own !== null && (
          <Button busy={removal.busy} busyText="Removing…" onClick={() => void remove(own)}>
            Remove
          </Button>
        )}
      </div>
      {removal.error !== null && <ErrorNotice error={removal.error} />}
      <KitRead kit={kit} />
    </Page>
  )
}
