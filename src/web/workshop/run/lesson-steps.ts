import type { MoveBody } from '../../../domain/workshop/moves.ts'
import { MOMENTS, type Moment } from '../../../domain/workshop/room.ts'
import type { RoomState, RoomView } from '../../../domain/workshop/room-state.ts'
import { hasLocked } from '../../../domain/workshop/visible.ts'
import { allLocked, awaited, hasStopped } from './table-stage.ts'

export const MOMENT_WORDS: Readonly<Record<Moment, string>> = {
  join: 'Join',
  predict: 'Predict',
  running: 'Run',
  compare: 'Compare',
  debrief: 'Debrief',
  'wrap-up': 'Wrap up',
}

/** A step of the lesson: what the button says, what it does, and what was done, as a sentence. */
export interface LessonStep {
  readonly label: string
  readonly done: string
  readonly moves: readonly MoveBody[]
  /** Why it may be too early; `''`: nothing speaks against it. */
  readonly early: string
}

/** To a moment; its talking points begin again, and a countdown of the moment before ends. */
function toMoment(room: RoomView, moment: Moment): MoveBody[] {
  return [
    { kind: 'moment', moment },
    { kind: 'talking-point', index: 0 },
    ...(room.countdown === null
      ? []
      : [{ kind: 'countdown' as const, of: room.countdown.kind, seconds: 0 }]),
  ]
}

/** Opens a round for planning, with its time box where the room has one. */
function planRound(room: RoomView, round: number): MoveBody[] {
  const seconds = room.settings.planSeconds
  return [
    { kind: 'round', round },
    ...toMoment(room, 'predict').filter((move) => seconds === null || move.kind !== 'countdown'),
    ...(seconds === null ? [] : [{ kind: 'countdown' as const, of: 'plan' as const, seconds }]),
  ]
}

/** Starts the clocks of all tables at one instant. */
function startAll(room: RoomView, seconds: number): MoveBody[] {
  return [
    ...toMoment(room, 'running').filter((move) => move.kind !== 'countdown'),
    { kind: 'countdown', of: 'start', seconds },
  ]
}

const missing = (count: number, of: number, what: string) =>
  count === of ? '' : `${count} of ${of} tables ${count === 1 ? 'has' : 'have'} ${what}.`

/** Any moment, as the facilitator may choose it out of turn. */
export function momentStep(state: RoomState, moment: Moment): LessonStep {
  const word = MOMENT_WORDS[moment]
  return {
    label: word,
    done: `The class is at “${word}”.`,
    moves: toMoment(state.room, moment),
    early: '',
  }
}

/**
 * The step that comes next in the lesson.
 *
 * @param countIn Seconds of the shared countdown before the clocks start, 3–10.
 * @returns `null` after the last one.
 */
export function nextStep(state: RoomState, countIn: number): LessonStep | null {
  const { room } = state
  const { round, settings } = room
  const inClass = awaited(state, round)
  switch (room.moment) {
    case 'join':
      return planStep(room, Math.max(1, round))
    case 'predict': {
      const locked = inClass.filter((table) => hasLocked(table, round)).length
      const early = allLocked(state, round) ? '' : missing(locked, inClass.length, 'locked')
      if (settings.pace === 'alone')
        return { ...momentStep(state, 'running'), label: `Let tables run round ${round}`, early }
      return {
        label: `Start round ${round} for all in ${countIn} s`,
        done: `Round ${round} starts for all.`,
        moves: startAll(room, countIn),
        early,
      }
    }
    case 'running': {
      const stopped = inClass.filter((table) => hasStopped(table, round)).length
      return {
        ...momentStep(state, 'compare'),
        label: `Compare round ${round}`,
        early: missing(stopped, inClass.length, 'a time'),
      }
    }
    case 'compare':
      return { ...momentStep(state, 'debrief'), label: `Debrief round ${round}` }
    case 'debrief': {
      const decided = inClass.filter((table) =>
        table.rounds.some((own) => own.number === round && own.decision !== null),
      ).length
      const early = missing(decided, inClass.length, 'decided')
      if (round < settings.rounds) return { ...planStep(room, round + 1), early }
      return { ...momentStep(state, 'wrap-up'), early }
    }
    case 'wrap-up':
      return null
  }
}

const planStep = (room: RoomView, round: number): LessonStep => ({
  label: `Begin round ${round}: plan and predict`,
  done: `Round ${round} begins.`,
  moves: planRound(room, round),
  early: '',
})

/**
 * What puts the countdown back to where it was in a room: it goes on with what is left of it by now;
 * one that has run out is taken away.
 *
 * @param before The room as it was.
 * @param now    The server's clock, milliseconds.
 */
export function countdownBack({ countdown }: RoomView, now: number): MoveBody[] {
  const left = countdown === null ? 0 : Math.max(0, (Date.parse(countdown.endsAt) - now) / 1000)
  return [{ kind: 'countdown', of: countdown?.kind ?? 'plan', seconds: left }]
}

/**
 * What puts the lesson back to where a room was.
 *
 * @param before The room as it was.
 * @param now    The server's clock, milliseconds.
 */
export function backTo(before: RoomView, now: number): MoveBody[] {
  return [
    { kind: 'moment', moment: before.moment },
    { kind: 'round', round: before.round },
    { kind: 'talking-point', index: before.talkingPoint },
    ...countdownBack(before, now),
  ]
}

/** Moments in the order of the lesson. */
export const LESSON: readonly Moment[] = MOMENTS
