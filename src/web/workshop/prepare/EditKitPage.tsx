import { useState } from 'react'
import { useLocation } from 'wouter'
import type { KitReply } from '../../../api/workshop-contract.ts'
import type { Kit } from '../../../domain/workshop/kit.ts'
import { KIT_LIMITS } from '../../../domain/workshop/kit-issues.ts'
import { call } from '../../lib/api.ts'
import { newId } from '../../lib/ids.ts'
import { patchQuery } from '../../lib/query.ts'
import { useCan } from '../../lib/session.ts'
import { LinkButton } from '../../ui/Button.tsx'
import { Page } from '../../ui/Page.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import { KitForm } from './KitForm.tsx'
import { KitMissing } from './KitMissing.tsx'
import { type KitEntry, useKits } from './kit-entries.ts'
import './prepare.css'

const CRUMBS = [
  { label: 'Workshops', href: '/workshops' },
  { label: 'Kits', href: '/workshops/kits' },
]

/** Puts a kit as the server has it now into what was read. */
const receive = (reply: KitReply) =>
  patchQuery('GET /api/kits', {}, ({ kits }) => ({
    kits: [...kits.filter(({ id }) => id !== reply.id), reply],
  }))

export interface EditKitPageProps {
  /** `null`: from nothing. */
  readonly kitKey: string | null
  /** `copy` begins a new kit with what another one says. */
  readonly as: 'change' | 'copy'
}

/** Writes a kit: from nothing, from a copy, or by changing one written here. */
export function EditKitPage({ kitKey, as }: EditKitPageProps) {
  const kits = useKits()
  const mayWrite = useCan('coach')
  if (!mayWrite)
    return (
      <Page title="Kits are written by coaches" crumbs={CRUMBS}>
        <div className="stack">
          <p>You can look at every kit, and print it.</p>
          <LinkButton href="/workshops/kits">All kits</LinkButton>
        </div>
      </Page>
    )
  return (
    <Loaded query={kits} what="the kit">
      {(entries) => {
        const entry = entries.find(({ key }) => key === kitKey)
        if (kitKey === null) return <NewKit from={null} />
        if (entry === undefined) return <KitMissing />
        return as === 'change' && entry.own !== null ? (
          <ChangeKit reply={entry.own} />
        ) : (
          <NewKit from={entry} />
        )
      }}
    </Loaded>
  )
}

const OUR_WAY = ', our way'
const copyName = (name: string) => name.slice(0, KIT_LIMITS.name - OUR_WAY.length) + OUR_WAY

function NewKit({ from }: { from: KitEntry | null }) {
  const [, navigate] = useLocation()
  // Made once, so that saving again after a lost answer makes one kit.
  const [id] = useState(newId)
  const [initial] = useState<Kit | null>(() =>
    from === null ? null : { ...from.kit, name: copyName(from.kit.name) },
  )
  const save = async (kit: Kit, done: () => void) => {
    const reply = await call('POST /api/kits', { body: { id, kit } })
    done()
    receive(reply)
    navigate(`/workshops/kits/${reply.id}`)
  }
  return (
    <Page
      title={from === null ? 'Write a kit' : `Copy of ${from.kit.name}`}
      crumbs={CRUMBS}
      lead={<p>What you type is kept on this device until you save it.</p>}
    >
      <KitForm
        draftKey={from === null ? 'kit:new' : `kit:copy:${from.key}`}
        initial={initial}
        saveText="Save the kit"
        back={from === null ? '/workshops/kits' : `/workshops/kits/${from.key}`}
        onSave={save}
      />
    </Page>
  )
}

function ChangeKit({ reply }: { reply: KitReply }) {
  const [, navigate] = useLocation()
  // The version that the form began with: a later one is somebody else's, and is not overwritten.
  const [{ id, version, kit: initial }] = useState(reply)
  const [copyId] = useState(newId)
  const saveCopy = async (kit: Kit, done: () => void) => {
    const body = { id: copyId, kit: { ...kit, name: copyName(kit.name) } }
    const made = await call('POST /api/kits', { body })
    done()
    receive(made)
    navigate(`/workshops/kits/${made.id}`)
  }
  const save = async (kit: Kit, done: () => void) => {
    const saved = await call('PATCH /api/kits/:id', { params: { id }, body: { kit, version } })
    done()
    receive(saved)
    navigate(`/workshops/kits/${id}`)
  }
  return (
    <Page
      title={`Change ${initial.name}`}
      crumbs={CRUMBS}
      lead={<p>Workshops that are open already keep the kit as it was.</p>}
    >
      <KitForm
        draftKey={`kit:${id}:${version}`}
        initial={initial}
        saveText="Save the changes"
        back={`/workshops/kits/${id}`}
        onSave={save}
        onSaveCopy={saveCopy}
      />
    </Page>
  )
}
