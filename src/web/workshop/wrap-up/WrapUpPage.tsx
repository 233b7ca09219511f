import { useMemo } from 'react'
import { Link } from 'wouter'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { wardQuestions } from '../../../domain/workshop/ward-questions.ts'
import { wrapUp } from '../../../domain/workshop/wrap-up.ts'
import { byTable } from '../../../domain/workshop/wrap-up-rounds.ts'
import { wrapUpText } from '../../../domain/workshop/wrap-up-text.ts'
import { useCan } from '../../lib/session.ts'
import { LinkButton } from '../../ui/Button.tsx'
import { Section } from '../../ui/Section.tsx'
import { ClassPictures } from './ClassPictures.tsx'
import { CurveFigure } from './CurveFigure.tsx'
import { curveSpec, describeRounds, sharedAxes } from './curve-spec.ts'
import { Findings } from './Findings.tsx'
import { ClosingIn, TwoTimers } from './Pictures.tsx'
import { RoundRecord } from './RoundRecord.tsx'
import { roomLine, WrapUpFrame } from './WrapUpFrame.tsx'

/** What a whole workshop found, on screen and on paper. */
export function WrapUpPage({ roomId }: { readonly roomId: string }) {
  return (
    <WrapUpFrame
      roomId={roomId}
      title={({ room }) => `Wrap-up: ${room.name}`}
      crumbs={({ room }) => [{ label: room.name, href: `/workshops/${room.id}` }]}
      lead={(state) => <p>{roomLine(state, state.tables)}</p>}
    >
      {(state) => <ClassView state={state} />}
    </WrapUpFrame>
  )
}

function ClassView({ state }: { readonly state: RoomState }) {
  const { room } = state
  const found = useMemo(() => wrapUp(state), [state])
  const parts = useMemo(() => wrapUpText(found), [found])
  const mayOpen = useCan('member')
  const { rows } = found
  if (rows.length === 0)
    return <p>No table has begun a round yet. What the class found appears here as it plays.</p>
  return (
    <>
      <Section title="What the class found" wide>
        <Findings parts={parts} />
      </Section>
      <Section title="The class together" wide>
        <ClassPictures found={found} />
      </Section>
      <ByTable state={state} rows={rows} found={found} kind="time" />
      <ByTable state={state} rows={rows} found={found} kind="quality" />
      <Section title="Predictions and timers" wide>
        <ClosingIn rows={rows} single={room.settings.predicts === 'single'} />
        <TwoTimers timers={found.timers} />
        <p className="wrap-screen">
          <Link href={`/predictions?workshop=${room.id}`}>
            Every prediction of this workshop, one by one
          </Link>
        </p>
      </Section>
      <Section title="Every round" id="every-round" wide>
        <RoundRecord rows={rows} caption="Every round of every table" withTable />
        <nav className="wrap-screen" aria-label="One table each">
          <ul>
            {byTable(rows).map(([first]) => (
              <li key={first!.tableId}>
                <Link href={`/workshops/${room.id}/tables/${first!.tableId}`}>
                  {`${first!.table}, on a page to give to its people`}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
      </Section>
      <WardSection
        questions={wardQuestions(found)}
        href={`/workshops/${room.id}/ward`}
        mayOpen={mayOpen}
      />
    </>
  )
}

interface ByTableProps {
  readonly state: RoomState
  readonly rows: ReturnType<typeof wrapUp>['rows']
  readonly found: ReturnType<typeof wrapUp>
  readonly kind: 'time' | 'quality'
}

/** One small picture a table, all on the same axes. */
function ByTable({ state, rows, found, kind }: ByTableProps) {
  const { tables } = found.learning
  const share = useMemo(() => sharedAxes(rows, kind, tables), [rows, kind, tables])
  if (share.values.length === 0) return null
  const { kit, settings } = state.room
  const { clockStarts, clockStops } = kit
  const marks = settings.predicts === 'single' ? 'Ticks' : 'Brackets'
  return (
    <Section
      title={kind === 'time' ? 'Time, round by round' : 'Items right, round by round'}
      aside={
        <p>
          {kind === 'time'
            ? `${marks} are predictions, dots are times, dashes the fitted learning curve. The clock starts: ${clockStarts} It stops: ${clockStops}`
            : `${marks} are predictions, dots the share of the checklist that was right.`}
        </p>
      }
      wide
    >
      <div className="wrap-tables">
        {byTable(rows).map((own) => (
          <CurveFigure
            key={own[0]!.tableId}
            title={own[0]!.table}
            headingLevel={3}
            description={describeRounds(own, kind)}
            {...curveSpec(
              own,
              kind,
              tables.find((t) => t.tableId === own[0]!.tableId),
            )}
            share={share}
          />
        ))}
      </div>
    </Section>
  )
}

export interface WardSectionProps {
  readonly questions: readonly string[]
  readonly href: string
  readonly mayOpen: boolean
}

/** What to ask on the ward, and the way to begin there. */
export function WardSection({ questions, href, mayOpen }: WardSectionProps) {
  return (
    <Section title="Questions to take back to the ward">
      <ul className="wrap-questions">
        {questions.map((question) => (
          <li key={question}>{question}</li>
        ))}
      </ul>
      {mayOpen && (
        <div className="wrap-screen">
          <LinkButton href={href} look="main">
            Take this to the ward
          </LinkButton>
        </div>
      )}
    </Section>
  )
}
