import { useEffect, useMemo, useState } from 'preact/hooks'
import { formatDuration, speakDurations } from '../domain/duration.ts'
import { SEAT_ROLES } from '../domain/workshop/room.ts'
import type { RoomState } from '../domain/workshop/room-state.ts'
import { ConfidencePage } from './ConfidencePage.tsx'
import { CountdownStart } from './CountdownStart.tsx'
import { DebriefPage } from './DebriefPage.tsx'
import { type Doubt, DoubtPage } from './DoubtPage.tsx'
import { serverTime } from './device.ts'
import { FinishedPage } from './FinishedPage.tsx'
import { InspectPage } from './InspectPage.tsx'
import { KeepPage } from './KeepPage.tsx'
import { CareQuestion, Nudge, RefusedMoves } from './Notices.tsx'
import { currentTrial, ownTable } from './optimistic.ts'
import { PhonePage } from './PhonePage.tsx'
import { PlanPage } from './PlanPage.tsx'
import { openPhone } from './phone.ts'
import { ReadyPage } from './ReadyPage.tsx'
import { RunningPage } from './RunningPage.tsx'
import { ready } from './ready.ts'
import { Said } from './Said.tsx'
import { Button, Screen } from './Screen.tsx'
import type { Seat } from './seat.ts'
import { whereIs } from './step.ts'
import { Seated, useBeat, useDraft, useView } from './use-phone.ts'
import { WaitPage } from './WaitPage.tsx'
import { unsentText } from './words.ts'

const NO_CONNECTION = 'No connection at the moment; the page goes on without it.'

interface TablePageProps {
  readonly seat: Seat
  /** From joining just now; `null` where the phone comes back. */
  readonly joined: RoomState | null
  readonly onLeave: () => void
}

/** A phone at its table: one thing to do at a time. */
export function TablePage({ seat: first, joined, onLeave }: TablePageProps) {
  const phone = useMemo(() => openPhone(first, joined), [first, joined])
  useEffect(() => phone.close, [phone])
  const view = useView(phone)
  const { seat, state, lost } = view
  const [ahead, setAhead] = useDraft(phone, 'ahead', 0)
  const [taken, setTaken] = useDraft(phone, 'taken', '')
  const [skipped, setSkipped] = useDraft<readonly string[]>(phone, 'skipped', [])
  const [inspecting, setInspecting] = useDraft<string | null>(phone, 'inspecting', null)
  const [about, setAbout] = useState(false)
  const doubt = phone.draft<Doubt>('doubt')

  useEffect(() => {
    if (state !== null || lost !== null) ready()
  }, [state, lost])
  // Alone, there is nobody to share the parts with.
  const alone = state?.room.settings.tryOut === true && seat.roles.length === 0
  useEffect(() => {
    if (alone) phone.setRoles(SEAT_ROLES, seat.name)
  }, [alone, phone, seat.name])

  const own = {
    ...{ seatId: seat.seatId, roles: seat.roles, ahead, taken, skipped, inspecting },
    timing: view.timing?.round ?? 0,
  }
  const where = state === null ? null : whereIs(state, own)
  // A clock for which there is no trial any more: it was voided, or the round is decided.
  const stray =
    where !== null &&
    view.timing !== null &&
    (where.round?.stage === 'ready' || view.timing.round < where.number)
  useEffect(() => {
    if (stray) phone.dropClock()
  }, [stray, phone])

  const leave = () => {
    phone.leave()
    onLeave()
  }
  if (lost !== null)
    return (
      <main tabIndex={-1}>
        <Screen
          name="lost"
          title="This phone is not at the table any more"
          controls={
            <>
              <Button as="main" onClick={phone.retry}>
                Try again
              </Button>
              <Button onClick={leave}>Join afresh</Button>
            </>
          }
        >
          <p>
            {lost.message} {lost.hint}
          </p>
          {view.unsent > 0 && <p>{unsentText(view.unsent, view.lasting)}</p>}
        </Screen>
      </main>
    )
  const table = state === null ? undefined : ownTable(state)
  if (state === null || where === null || table === undefined)
    return (
      <main tabIndex={-1}>
        <Screen
          name="waiting"
          title={`Table ${seat.tableName}`}
          controls={<Button onClick={leave}>Join another table</Button>}
        >
          <p>{view.live ? 'Fetching the room.' : 'Waiting for the server.'}</p>
        </Screen>
      </main>
    )

  const { step, number } = where
  const trial = currentTrial(where.round)
  const stopped = trial?.readings[0]?.seconds
  const { countdown } = state.room
  const startsAt =
    countdown?.kind === 'start' && (step === 'ready' || step === 'running')
      ? countdown.endsAt
      : null
  const at = { phone, view, state, table, where, take: setTaken }
  const skip = (what: string) => setSkipped([...skipped, what])
  const page = () => {
    switch (step) {
      case 'gone':
        return (
          <Screen
            name={step}
            title="This table was taken out"
            controls={
              <Button as="main" onClick={leave}>
                Join another table
              </Button>
            }
          >
            <p>The facilitator has removed table {table.name}. What it recorded is kept.</p>
          </Screen>
        )
      case 'roles':
        return <PhonePage key="roles" onDone={() => {}} />
      case 'confidence-before':
        return <ConfidencePage key={step} when="before" onSkip={() => skip('before')} />
      case 'confidence-after':
        return <ConfidencePage key={step} when="after" onSkip={() => skip('after')} />
      case 'wait':
        return <WaitPage key={step} onAhead={() => setAhead(number)} />
      case 'plan':
      case 'watch-plan':
        return <PlanPage key={`plan ${number}`} watching={step === 'watch-plan'} />
      case 'ready':
        return <ReadyPage key={`ready ${number}`} />
      case 'running':
        return <RunningPage key={`running ${number}`} />
      case 'keep':
        return <KeepPage key={trial?.id} />
      case 'inspect':
        return <InspectPage key={trial?.id} onBusy={setInspecting} />
      case 'debrief':
      case 'watch-inspect':
      case 'watch-debrief':
        return <DebriefPage key={`debrief ${number}`} watching={step} onInspect={setInspecting} />
      case 'finished':
      case 'closed':
        return <FinishedPage key={step} />
    }
  }
  return (
    <Seated at={at}>
      <main class={step} tabIndex={-1}>
        <header>
          <p class="where">
            Table {table.name}
            {number <= state.room.settings.rounds &&
              ` · round ${number} of ${state.room.settings.rounds}`}
          </p>
          {step !== 'roles' && step !== 'closed' && (
            <Button as="link" onClick={() => setAbout(!about)}>
              This phone
            </Button>
          )}
          {(view.unsent > 0 || !view.live) && step !== 'closed' && (
            <p class="small line">
              {view.unsent > 0 ? unsentText(view.unsent, view.lasting) : NO_CONNECTION}
            </p>
          )}
        </header>
        {/* Always there, so that a screen reader hears what comes into it. */}
        <div class="hidden" aria-live="polite">
          <p>
            {step !== 'running' &&
              stopped !== undefined &&
              `The clock stopped at ${speakDurations(formatDuration(stopped))}.`}
          </p>
          <p>{!view.live && step !== 'closed' && NO_CONNECTION}</p>
        </div>
        {step !== 'closed' && <Nudge />}
        {startsAt !== null && <CountdownStart endsAt={startsAt} />}
        <PlanClock
          shown={step === 'plan' || step === 'watch-plan' || step === 'wait'}
          state={state}
        />
        <RefusedMoves />
        {view.asking !== null ? (
          <CareQuestion move={view.asking} />
        ) : doubt !== null ? (
          <DoubtPage doubt={doubt} onDone={() => phone.keepDraft('doubt', null)} />
        ) : about && step !== 'closed' && step !== 'running' ? (
          <PhonePage key="about" onDone={() => setAbout(false)} onLeave={leave} />
        ) : (
          page()
        )}
      </main>
    </Seated>
  )
}

/** Time left to plan, where the facilitator has set one. */
function PlanClock({ shown, state }: { shown: boolean; state: RoomState }) {
  const { countdown } = state.room
  if (!shown || countdown?.kind !== 'plan') return null
  return <TimeLeft endsAt={countdown.endsAt} />
}

function TimeLeft({ endsAt }: { endsAt: string }) {
  useBeat(500)
  const left = Math.ceil((Date.parse(endsAt) - serverTime()) / 1000)
  const two = (n: number) => String(n).padStart(2, '0')
  return (
    <p class="small line">
      {left > 0 && <Said>{`${Math.floor(left / 60)}:${two(left % 60)} left to plan`}</Said>}
      <span aria-live="polite">{left <= 0 && 'The time to plan is over.'}</span>
    </p>
  )
}
