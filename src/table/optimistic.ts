import type { Id, Instant } from '../domain/record.ts'
import { combine } from '../domain/workshop/inspecting.ts'
import { scoreOf } from '../domain/workshop/kit.ts'
import type { MoveBody, TableMove } from '../domain/workshop/moves.ts'
import type {
  RoomState,
  RoundState,
  TableState,
  TrialState,
} from '../domain/workshop/room-state.ts'
import { settle } from '../domain/workshop/timing.ts'

/** A move of this phone that the server's state does not show yet. */
export interface LocalMove {
  readonly body: MoveBody
  readonly at: Instant
}

/** The own table in a state, or `undefined` for a screen. */
export function ownTable(state: RoomState): TableState | undefined {
  const { viewer } = state
  return viewer.as === 'table' ? state.tables.find(({ id }) => id === viewer.tableId) : undefined
}

/**
 * The state as this phone shows it: the server's, and on top what the phone itself has done since.
 * A move that the state has already changes nothing. The server alone decides in the end.
 */
export function withMoves(state: RoomState, moves: readonly LocalMove[]): RoomState {
  const table = ownTable(state)
  const { viewer } = state
  if (table === undefined || viewer.as !== 'table' || moves.length === 0) return state
  const next = moves.reduce((was, move) => withMove(was, move, state, viewer.seatId), table)
  return { ...state, tables: state.tables.map((t) => (t === table ? next : t)) }
}

function withMove(
  table: TableState,
  { body, at }: LocalMove,
  state: RoomState,
  seatId: Id,
): TableState {
  if (body.kind === 'seat' || body.kind === 'confidence') {
    const part =
      body.kind === 'seat'
        ? { name: body.name, roles: body.roles }
        : { [body.when === 'before' ? 'confidenceBefore' : 'confidenceAfter']: body.value }
    return {
      ...table,
      seats: table.seats.map((seat) => (seat.id === seatId ? { ...seat, ...part } : seat)),
    }
  }
  if (!isTableMove(body)) return table
  const by = table.seats.find(({ id }) => id === seatId)?.name ?? ''
  const has = 'trialId' in body && !('round' in body) ? body.trialId : null
  const number =
    'round' in body
      ? body.round
      : table.rounds.find(({ trials }) => trials.some(({ id }) => id === has))?.number
  if (number === undefined) return table
  const known = table.rounds.find((round) => round.number === number)
  const changed = counted(roundWith(known ?? newRound(number), body, at, { seatId, by }), state)
  return {
    ...table,
    rounds: [...table.rounds.filter((round) => round !== known), changed].sort(
      (a, b) => a.number - b.number,
    ),
  }
}

const TABLE_MOVES: ReadonlySet<string> = new Set([
  ...['plan', 'lock', 'start', 'stop', 'keep', 'void', 'unvoid', 'inspect', 'decide'],
])
const isTableMove = (body: MoveBody): body is TableMove => TABLE_MOVES.has(body.kind)

function newRound(number: number): RoundState {
  return {
    ...{ number, cycleId: '', stage: 'plan', lockedAt: null, strategy: '', predictions: null },
    ...{ withheld: false, trials: [], seconds: null, right: null, inspected: null, score: null },
    ...{ decision: null, surprises: null, learned: null, predictionReview: null },
  }
}

interface By {
  readonly seatId: Id
  readonly by: string
}

function roundWith(round: RoundState, move: TableMove, at: Instant, who: By): RoundState {
  switch (move.kind) {
    case 'plan':
    case 'lock': {
      if (round.lockedAt !== null) return round
      const { strategy, time, quality, confidence, why } = move
      return {
        ...round,
        strategy,
        predictions: { time, quality, confidence, why },
        lockedAt: move.kind === 'lock' ? at : null,
      }
    }
    case 'start': {
      if (round.trials.some(({ id }) => id === move.trialId) || isRunning(round)) return round
      return { ...round, trials: [...round.trials, newTrial(move.trialId, round, at, who.seatId)] }
    }
    case 'stop': {
      if (round.trials.some(({ readings }) => readings.some(({ id }) => id === move.readingId)))
        return round
      const target = round.trials.find(({ id }) => id === move.trialId) ?? besideAnother(round, who)
      const trial = target ?? newTrial(move.trialId, round, startOf(at, move.seconds), who.seatId)
      const { readingId: id, seconds, how, note } = move
      const reading = { id, ...who, seconds, how, note, kept: null }
      const changed = { ...trial, readings: [...trial.readings, reading] }
      return {
        ...round,
        trials:
          target === undefined
            ? [...round.trials, changed]
            : round.trials.map((t) => (t === trial ? changed : t)),
      }
    }
    case 'keep':
      return onTrial(round, move.trialId, (trial) => ({
        ...trial,
        readings: trial.readings.map((r) => ({ ...r, kept: r.id === move.readingId })),
      }))
    case 'void':
      return onTrial(round, move.trialId, (trial) => ({ ...trial, voidReason: move.reason }))
    case 'unvoid':
      return onTrial(round, move.trialId, (trial) => ({ ...trial, voidReason: null }))
    case 'inspect':
      return onTrial(round, move.trialId, (trial) => ({
        ...trial,
        inspections: [
          ...trial.inspections.filter(({ id }) => id !== move.inspectionId),
          { id: move.inspectionId, ...who, marks: move.marks, rightCount: null },
        ],
      }))
    case 'decide': {
      if (round.decision !== null) return round
      const { surprises, learned, predictionReview, decision: kind, reason, nextChange } = move
      const decision = { kind, reason, nextChange }
      return { ...round, surprises, learned, predictionReview, decision }
    }
  }
}

const onTrial = (round: RoundState, trialId: Id, change: (trial: TrialState) => TrialState) => ({
  ...round,
  trials: round.trials.map((trial) => (trial.id === trialId ? change(trial) : trial)),
})

function newTrial(id: Id, round: RoundState, at: Instant, seatId: Id): TrialState {
  return {
    ...{ id, number: round.trials.length + 1, startedAt: at, startedBySeatId: seatId },
    ...{ voidReason: null, readings: [], seconds: null, unsettled: false, inspections: [] },
    ...{ right: null, inspected: null },
  }
}

const startOf = (at: Instant, seconds: number): Instant =>
  new Date(Date.parse(at) - seconds * 1000).toISOString()

/** The last trial that counts. */
export const currentTrial = (round: RoundState | undefined): TrialState | undefined =>
  round?.trials.findLast(({ voidReason }) => voidReason === null)

/** What a phone's own look at a trial is kept under: its own reading, whoever's trial that becomes. */
export const lookKey = (trial: TrialState | undefined, seatId: Id): Id =>
  trial?.readings.find((reading) => reading.seatId === seatId)?.id ?? trial?.id ?? ''

/**
 * The trial that stands, where this phone has timed too without having begun it: no table begins a
 * second one before. The server looks at when each ran.
 */
function besideAnother(round: RoundState, { seatId }: By): TrialState | undefined {
  const trial = currentTrial(round)
  return trial?.readings.some((reading) => reading.seatId === seatId) ? undefined : trial
}

const isRunning = (round: RoundState) => currentTrial(round)?.readings.length === 0

/** Fills in what follows from readings and inspections. */
function counted(round: RoundState, { room: { settings, kit } }: RoomState): RoundState {
  const trials = round.trials.map((trial) => {
    const asKept = trial.readings.map(({ seconds, kept }) => ({
      seconds,
      kept: kept === null ? null : Number(kept),
    }))
    const { seconds, unsettled } = settle(asKept, settings.timersAgreeWithin)
    return { ...trial, seconds, unsettled, ...combine(trial.inspections) }
  })
  const trial = currentTrial({ ...round, trials })
  const { seconds = null, right = null, inspected = null } = trial ?? {}
  const score =
    right === null || inspected === null
      ? null
      : (scoreOf(kit.score, right, inspected)?.score ?? null)
  const next = { ...round, trials, seconds, right, inspected, score }
  return { ...next, stage: stageOf(next) }
}

function stageOf(round: RoundState): RoundState['stage'] {
  if (round.decision !== null) return 'done'
  if (round.lockedAt === null) return 'plan'
  const trial = currentTrial(round)
  if (trial === undefined) return 'ready'
  if (trial.readings.length === 0) return 'running'
  return trial.right === null || trial.unsettled ? 'inspect' : 'debrief'
}
