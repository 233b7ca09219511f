import { formatDuration } from '../../../domain/duration.ts'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { talkingPointAt } from '../../../domain/workshop/talking-points.ts'
import { hasLocked } from '../../../domain/workshop/visible.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'
import { ClassPicture } from './ClassPicture.tsx'
import { clockText, secondsLeft } from './countdown-words.ts'
import { pictureSentences } from './picture-sentences.ts'
import { QrCode } from './QrCode.tsx'
import { ScreenFrame } from './ScreenFrame.tsx'
import { ScreenTables } from './ScreenTables.tsx'
import { allLocked, awaited, hasStopped, stageOf, tablesIn } from './table-stage.ts'

export interface ScreenMomentProps {
  readonly state: RoomState
  readonly rows: readonly RoundRow[]
  /** The server's clock, milliseconds. */
  readonly now: number
  /** Where phones go, such as `https://pawl.example`. */
  readonly origin: string
}

const count = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`
const asideOf = (state: RoomState) =>
  `${state.room.kit.name} · ${count(tablesIn(state).length, 'table')}`
/** Six characters in two groups, as people read them aloud. */
const spaced = (code: string) => `${code.slice(0, 3)} ${code.slice(3)}`

export function ScreenJoin({ state, origin }: ScreenMomentProps) {
  const { code } = state.room
  const tables = tablesIn(state)
  const address = `${origin.replace(/^https?:\/\//, '')}/t`
  return (
    <ScreenFrame title="Join your table" aside={state.room.kit.name}>
      <div className="screen-join">
        <QrCode
          text={`${origin}/t/${code}`}
          label={`QR code that opens ${address} with the code ${code}`}
        />
        <div>
          <p>Point a phone’s camera at the square, or open</p>
          <p className="screen-address">{address}</p>
          <p>and type</p>
          <p className="screen-code">
            <span className="hidden-text">{`the code ${[...code].join(' ')}`}</span>
            <span aria-hidden="true">{spaced(code)}</span>
          </p>
        </div>
      </div>
      {tables.length === 0 ? (
        <p className="screen-soft">Tables appear here as they join.</p>
      ) : (
        <ScreenTables
          tables={tables}
          stage={() => 'done'}
          word={(table) => count(table.seats.length, 'phone')}
        />
      )}
    </ScreenFrame>
  )
}

export function ScreenPredict({ state, rows, now }: ScreenMomentProps) {
  const { round, countdown } = state.room
  const waited = awaited(state, round)
  const locked = waited.filter((table) => hasLocked(table, round)).length
  const left = countdown?.kind === 'plan' ? secondsLeft(countdown, now) : null
  const all = allLocked(state, round)
  const time =
    left === null ? null : (
      <span className="screen-clock" role="timer">
        {left > 0 ? clockText(left) : 'Time is up'}
      </span>
    )
  if (all) {
    return (
      <ScreenFrame
        title={`Round ${round}: all have locked`}
        aside={asideOf(state)}
        words={['The brackets are what each table predicts. The dots come from the clock.']}
      >
        <ClassPicture name="times" rows={rows} round={round} />
      </ScreenFrame>
    )
  }
  return (
    <ScreenFrame
      title={round === 0 ? 'Plan and predict' : `Round ${round}: plan and predict`}
      aside={asideOf(state)}
      words={[
        `${locked} of ${waited.length} have locked.`,
        'Nobody sees another table’s prediction before all have.',
      ]}
    >
      {time}
      <ScreenTables tables={tablesIn(state)} stage={(table) => stageOf(table, round)} />
    </ScreenFrame>
  )
}

/** What a running table is called on the room screen, and one that has stopped. */
function runWord(state: RoomState, table: RoomState['tables'][number]) {
  const { round } = state.room
  const own = table.rounds.find(({ number }) => number === round)
  if (own !== undefined && hasStopped(table, round))
    return `stopped ${formatDuration(own.seconds!)}`
  return undefined
}

function runTitle(round: number, left: number | null): string {
  if (round === 0) return 'Running'
  return left !== null && left > 0 ? `Round ${round} starts in` : `Round ${round}: running`
}

export function ScreenRunning({ state, now }: ScreenMomentProps) {
  const { round, countdown, settings } = state.room
  const tables = tablesIn(state)
  const start = countdown?.kind === 'start' ? countdown : null
  const left = start === null ? null : secondsLeft(start, now)
  const stopped = tables.filter((table) => hasStopped(table, round)).length
  const running = tables.filter((table) => stageOf(table, round) === 'running').length
  const limit = settings.trialSeconds
  return (
    <ScreenFrame
      title={runTitle(round, left)}
      aside={asideOf(state)}
      words={[
        left !== null && left > 0
          ? 'Hands still until the clock starts.'
          : `${running} running, ${stopped} stopped.`,
      ]}
    >
      {left !== null && (
        <p className={left > 0 ? 'screen-clock huge' : 'screen-clock'} role="timer">
          {left > 0 ? left : clockText((now - Date.parse(start!.endsAt)) / 1000)}
          {left <= 0 && limit !== null && (
            <span className="screen-soft">{` of ${clockText(limit)}`}</span>
          )}
        </p>
      )}
      <ScreenTables
        tables={tables}
        stage={(table) => stageOf(table, round)}
        word={(table) => runWord(state, table)}
      />
    </ScreenFrame>
  )
}

const TITLES = {
  times: 'times and predictions',
  errors: 'how far off we were',
  scatter: 'time against quality',
  spread: 'the spread between tables',
  curve: 'the curve of the class',
} as const

/** Compare, debrief and wrap-up: a picture that goes along with the facilitator's talking points. */
export function ScreenCompare({ state, rows }: ScreenMomentProps) {
  const { moment, round, talkingPoint, kit } = state.room
  const point = talkingPointAt(moment, talkingPoint)
  const name = point.picture ?? 'times'
  const words = pictureSentences(name, rows, round, kit.checklist.length)
  const title =
    moment === 'compare' || point.question === null
      ? `${round === 0 ? 'Compare' : `Round ${round}`}: ${TITLES[name]}`
      : point.question
  return (
    <ScreenFrame title={title} aside={asideOf(state)} words={words}>
      <ClassPicture name={name} rows={rows} round={round} />
    </ScreenFrame>
  )
}
