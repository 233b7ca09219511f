import { useState } from 'react'
import type { RoomState, TableState } from '../../../domain/workshop/room-state.ts'
import { useQuery } from '../../lib/query.ts'
import { Notice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { RadioCards } from '../../ui/RadioCards.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import { isOnlyHere } from '../lib/only-here.ts'
import { JoinSheet } from './JoinSheet.tsx'
import { CardSheet, FacilitatorSheet } from './KitSheets.tsx'
import { PrintFrame } from './PrintFrame.tsx'
import { plottedUpTo, Worksheet } from './Worksheet.tsx'

type Fill = 'blank' | 'filled'
/** Worksheets of rounds that are over, or of all that are to come. */
const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1)
const BLANK_TABLE = { id: 'blank', name: '', rounds: [] } as const
type PrintedTable = Pick<TableState, 'id' | 'name' | 'rounds'>

/** The sheets of a workshop: how to join, the card, the facilitator's own, and worksheets. */
export function RoomPrintPage({ roomId }: { roomId: string }) {
  const query = useQuery('GET /api/rooms/:id', { id: roomId })
  return (
    <Loaded query={query} what="the workshop">
      {(state) => <Sheets state={state} />}
    </Loaded>
  )
}

function Sheets({ state }: { state: RoomState }) {
  const { room, viewer } = state
  const { kit, settings } = room
  const [on, setOn] = useState<Readonly<Record<string, boolean>>>({
    join: room.closedAt === null,
    card: room.closedAt === null,
    facilitator: room.closedAt === null,
    worksheets: true,
  })
  const played = state.tables.some(({ rounds }) => rounds.some(({ lockedAt }) => lockedAt !== null))
  const [fill, setFill] = useState<Fill>(played ? 'filled' : 'blank')
  const crumbs = [
    { label: 'Workshops', href: '/workshops' },
    { label: room.name, href: `/workshops/${room.id}` },
  ]
  if (viewer.as !== 'lead')
    return (
      <Page title="Sheets are printed by coaches" crumbs={crumbs}>
        <p>Ask whoever leads the workshop.</p>
      </Page>
    )

  const present = state.tables.filter(({ removed }) => !removed)
  const tables: readonly PrintedTable[] = present.length === 0 ? [BLANK_TABLE] : present
  const worksheets = tables.flatMap((table) =>
    upTo(settings.rounds)
      .map((round) => ({
        table,
        round,
        there: table.rounds.find(({ number }) => number === round) ?? null,
      }))
      .filter(({ there }) => fill === 'blank' || (there !== null && there.lockedAt !== null)),
  )
  const choice = (key: string, label: string) => ({ key, label, on: on[key] === true })
  const pages =
    Number(on['join']) +
    Number(on['card']) +
    Number(on['facilitator']) +
    (on['worksheets'] ? worksheets.length : 0)

  return (
    <PrintFrame
      title={`Print for ${room.name}`}
      crumbs={crumbs}
      choices={[
        choice('join', 'How to join, with the code'),
        choice('card', 'Layout card with the task; print one for each table'),
        choice('facilitator', 'Sheet for the facilitator'),
        choice('worksheets', 'Worksheets, one for each table and round'),
      ]}
      onChoose={(key, checked) => setOn({ ...on, [key]: checked })}
      more={
        <>
          {on['worksheets'] && (
            <RadioCards<Fill>
              legend="Worksheets"
              across
              value={fill}
              onChange={setFill}
              choices={[
                { value: 'blank', label: 'Blank', hint: 'To write on.' },
                { value: 'filled', label: 'Filled', hint: 'With what is recorded.' },
              ]}
            />
          )}
          {on['worksheets'] && worksheets.length === 0 && (
            <p>Nothing is recorded yet; there is no filled worksheet.</p>
          )}
          {on['join'] && isOnlyHere(location.hostname) && (
            <Notice kind="care">
              <p>
                {`Phones cannot reach ${location.host}. Open Pawl under the address that phones use, then print the sheet.`}
              </p>
            </Notice>
          )}
        </>
      }
      pages={pages}
    >
      {on['join'] && <JoinSheet workshop={room.name} code={room.code} origin={location.origin} />}
      {on['card'] && <CardSheet kit={kit} />}
      {on['facilitator'] && <FacilitatorSheet kit={kit} />}
      {on['worksheets'] &&
        worksheets.map(({ table, round, there }) => (
          <Worksheet
            key={`${table.id}:${round}`}
            workshop={room.name}
            table={table.name}
            kit={kit}
            round={round}
            rounds={settings.rounds}
            single={settings.predicts === 'single'}
            there={fill === 'filled' ? there : null}
            plotted={fill === 'filled' ? plottedUpTo(table.rounds, round) : []}
          />
        ))}
    </PrintFrame>
  )
}
