import { useMemo } from 'react'
import { Link } from 'wouter'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { wardQuestions } from '../../../domain/workshop/ward-questions.ts'
import { wrapUp } from '../../../domain/workshop/wrap-up.ts'
import { wrapUpText } from '../../../domain/workshop/wrap-up-text.ts'
import { useCan } from '../../lib/session.ts'
import { Section } from '../../ui/Section.tsx'
import { CurveFigure } from './CurveFigure.tsx'
import { curveSpec, describeRounds } from './curve-spec.ts'
import { Findings } from './Findings.tsx'
import { RoundRecord } from './RoundRecord.tsx'
import { RoundStory } from './RoundStory.tsx'
import { roomLine, WrapUpFrame } from './WrapUpFrame.tsx'
import { WardSection } from './WrapUpPage.tsx'

export interface TableWrapUpPageProps {
  readonly roomId: string
  readonly tableId: string
}

/** What one table did and found, for its people to take with them. Says nothing of other tables. */
export function TableWrapUpPage({ roomId, tableId }: TableWrapUpPageProps) {
  const tableOf = (state: RoomState) => state.tables.find(({ id }) => id === tableId)
  return (
    <WrapUpFrame
      roomId={roomId}
      title={(state) => tableOf(state)?.name ?? 'No such table'}
      crumbs={({ room }) => [
        { label: room.name, href: `/workshops/${room.id}` },
        { label: 'Wrap-up', href: `/workshops/${room.id}/wrap-up` },
      ]}
      lead={(state) => <TableLead state={state} tableId={tableId} />}
    >
      {(state) =>
        tableOf(state) === undefined ? (
          <p>
            This workshop has no such table.{' '}
            <Link href={`/workshops/${roomId}/wrap-up`}>Go to the wrap-up of the class.</Link>
          </p>
        ) : (
          <TableView state={state} tableId={tableId} />
        )
      }
    </WrapUpFrame>
  )
}

interface OneTable {
  readonly state: RoomState
  readonly tableId: string
}

function TableLead({ state, tableId }: OneTable) {
  const table = state.tables.find(({ id }) => id === tableId)
  const names = table?.seats.map(({ name }) => name.trim()).filter((name) => name !== '') ?? []
  const { room } = state
  return (
    <>
      <p>{roomLine(state, table === undefined ? [] : [table])}</p>
      <p>{`${room.name}${names.length === 0 ? '' : `. At the table: ${names.join(', ')}`}.`}</p>
    </>
  )
}

function TableView({ state, tableId }: OneTable) {
  const { room } = state
  const found = useMemo(() => wrapUp(state, tableId), [state, tableId])
  const parts = useMemo(() => wrapUpText(found), [found])
  const mayOpen = useCan('member')
  const { rows } = found
  if (state.tables.find(({ id }) => id === tableId)?.removed === true)
    return <p>This table was removed from the workshop, so it is not counted.</p>
  if (rows.length === 0)
    return <p>This table has not begun a round yet. What it found appears here as it plays.</p>
  return (
    <>
      <Section title="Round by round" wide>
        <div className="wrap-tables wrap-two">
          {(['time', 'quality'] as const).map((kind) => (
            <CurveFigure
              key={kind}
              title={kind === 'time' ? 'Time' : 'Items right'}
              headingLevel={3}
              description={describeRounds(rows, kind)}
              {...curveSpec(rows, kind, found.learning.tables[0])}
            />
          ))}
        </div>
        <p className="small soft">
          {room.settings.predicts === 'single' ? 'Ticks' : 'Brackets'} are predictions, dots what
          came. Dashes are the fitted learning curve, from three rounds on.
        </p>
        <RoundRecord rows={rows} caption="Every round of this table" withTable={false} />
      </Section>
      <Section title="What this table found" wide>
        <Findings parts={parts} />
      </Section>
      <Section title="In its own words">
        <RoundStory rows={rows} />
      </Section>
      <p className="wrap-screen">
        <Link href={`/predictions?workshop=${room.id}&table=${tableId}`}>
          Every prediction of this table, one by one
        </Link>
      </p>
      <WardSection
        questions={wardQuestions(found)}
        href={`/workshops/${room.id}/ward?table=${tableId}`}
        mayOpen={mayOpen}
      />
    </>
  )
}
