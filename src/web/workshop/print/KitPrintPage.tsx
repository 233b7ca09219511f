import { useState } from 'react'
import { Loaded } from '../../ui/Waiting.tsx'
import { KitMissing } from '../prepare/KitMissing.tsx'
import { useKits } from '../prepare/kit-entries.ts'
import { CardSheet, FacilitatorSheet } from './KitSheets.tsx'
import { PrintFrame } from './PrintFrame.tsx'
import { Worksheet } from './Worksheet.tsx'

/** METHODS 2: three to five rounds are common practice. */
const ROUNDS = 4

/** The sheets of a kit, outside any workshop. */
export function KitPrintPage({ kitKey }: { kitKey: string }) {
  const kits = useKits()
  const [on, setOn] = useState<Readonly<Record<string, boolean>>>({
    card: true,
    facilitator: true,
    worksheets: true,
  })
  return (
    <Loaded query={kits} what="the kit">
      {(entries) => {
        const entry = entries.find(({ key }) => key === kitKey)
        if (entry === undefined) return <KitMissing />
        const { kit } = entry
        const choice = (key: string, label: string) => ({ key, label, on: on[key] === true })
        const pages =
          Number(on['card']) + Number(on['facilitator']) + (on['worksheets'] ? ROUNDS : 0)
        return (
          <PrintFrame
            title={`Print ${kit.name}`}
            crumbs={[
              { label: 'Workshops', href: '/workshops' },
              { label: 'Kits', href: '/workshops/kits' },
              { label: kit.name, href: `/workshops/kits/${entry.key}` },
            ]}
            choices={[
              choice('card', 'Layout card with the task; print one for each table'),
              choice('facilitator', 'Sheet for the facilitator'),
              choice('worksheets', `Blank worksheets of one table, ${ROUNDS} rounds`),
            ]}
            onChoose={(key, checked) => setOn({ ...on, [key]: checked })}
            pages={pages}
          >
            {on['card'] && <CardSheet kit={kit} />}
            {on['facilitator'] && <FacilitatorSheet kit={kit} />}
            {on['worksheets'] &&
              Array.from({ length: ROUNDS }, (_, i) => (
                <Worksheet
                  // biome-ignore lint/suspicious/noArrayIndexKey: a round is its place
                  key={i}
                  workshop=""
                  table=""
                  kit={kit}
                  round={i + 1}
                  rounds={ROUNDS}
                  single={false}
                  there={null}
                  plotted={[]}
                />
              ))}
          </PrintFrame>
        )
      }}
    </Loaded>
  )
}
