import type { Cycle, Decision, Instant, Observation, Prediction, Trial } from '../record.ts'
import type { Look, Mark } from './inspecting.ts'
import { type Kit, scoreOf } from './kit.ts'
import type {
  Countdown,
  Inspection,
  Reading,
  Room,
  RoomSeat,
  RoomSettings,
  RoomTable,
  SeatRole,
} from './room.ts'
import type {
  RoomView,
  RoundPredictions,
  RoundStage,
  RoundState,
  SeatState,
  TableState,
  TrialState,
} from './room-state.ts'
import { settle } from './timing.ts'

/** Everything that is recorded of one table. */
export interface TableRows {
  readonly table: RoomTable
  readonly seats: readonly RoomSeat[]
  readonly cycles: readonly Cycle[]
  readonly predictions: readonly Prediction[]
  readonly decisions: readonly Decision[]
  readonly trials: readonly Trial[]
  readonly observations: readonly Observation[]
  readonly readings: readonly Reading[]
  readonly inspections: readonly Inspection[]
  /** Its moves that started a clock. */
  readonly starts: readonly { readonly at: Instant; readonly seatId: string | null }[]
  readonly lastMoveAt: Instant | null
}

export const kitOf = (room: Pick<Room, 'kit'>) => JSON.parse(room.kit) as Kit
export const settingsOf = (room: Pick<Room, 'settings'>) =>
  JSON.parse(room.settings) as RoomSettings
export const countdownOf = (room: Pick<Room, 'countdown'>) =>
  room.countdown === null ? null : (JSON.parse(room.countdown) as Countdown)
export const excusedOf = (table: Pick<RoomTable, 'excused'>) =>
  JSON.parse(table.excused) as readonly number[]
const rolesOf = (seat: Pick<RoomSeat, 'roles'>) => JSON.parse(seat.roles) as readonly SeatRole[]
/** What an inspector put down. */
export const lookOf = ({ marks, rightCount }: Pick<Inspection, 'marks' | 'rightCount'>): Look => ({
  marks: JSON.parse(marks) as readonly Mark[],
  rightCount,
})

/** The round of the room that a table's test of change is. */
const roundOf = (cycle: Pick<Cycle, 'number'>, table: Pick<RoomTable, 'firstRound'>) =>
  cycle.number + table.firstRound - 1

/** A room as the facilitator sees it. */
export function roomView(room: Room): RoomView {
  return {
    id: room.id,
    code: room.code,
    name: room.name,
    unitId: room.unitId,
    kit: kitOf(room),
    settings: settingsOf(room),
    moment: room.moment,
    round: room.round,
    countdown: countdownOf(room),
    talkingPoint: room.talkingPoint,
    notes: room.notes,
    openedAt: room.openedAt,
    closedAt: room.closedAt,
  }
}

/** A table as the facilitator sees it: everything. */
export function tableState(rows: TableRows, kit: Kit): TableState {
  const { table } = rows
  return {
    id: table.id,
    name: table.name,
    place: table.place,
    projectId: table.projectId,
    firstRound: table.firstRound,
    excused: excusedOf(table),
    removed: table.removedAt !== null,
    seats: rows.seats.filter(({ removedAt }) => removedAt === null).map(seatState),
    rounds: rows.cycles.map((cycle) => roundState(rows, cycle, kit)),
    nudge: table.nudgedAt === null ? null : { text: table.nudge, at: table.nudgedAt },
    joinNumber: table.joinNumber,
    lastMoveAt: rows.lastMoveAt,
  }
}

function seatState(seat: RoomSeat): SeatState {
  const { id, name, confidenceBefore, confidenceAfter } = seat
  return { id, name, roles: rolesOf(seat), confidenceBefore, confidenceAfter }
}

function roundState(rows: TableRows, cycle: Cycle, kit: Kit): RoundState {
  const decision = rows.decisions.find(({ cycleId }) => cycleId === cycle.id) ?? null
  const trials = rows.trials
    .filter(({ cycleId }) => cycleId === cycle.id)
    .map((trial) => trialState(rows, trial))
  const counted = trials.findLast(({ voidReason }) => voidReason === null) ?? null
  const right = counted?.right ?? null
  const inspected = counted?.inspected ?? null
  return {
    number: roundOf(cycle, rows.table),
    cycleId: cycle.id,
    stage: stageOf(cycle, counted, decision),
    lockedAt: cycle.lockedAt,
    strategy: cycle.change,
    predictions: predictionsOf(rows, cycle),
    withheld: false,
    trials,
    seconds: counted?.seconds ?? null,
    right,
    inspected,
    score:
      right === null || inspected === null
        ? null
        : (scoreOf(kit.score, right, inspected)?.score ?? null),
    decision:
      decision === null
        ? null
        : { kind: decision.kind, reason: decision.reason, nextChange: decision.nextChange },
    surprises: cycle.surprises,
    learned: cycle.learned,
    predictionReview: cycle.predictionReview,
  }
}

function stageOf(cycle: Cycle, counted: TrialState | null, decision: Decision | null): RoundStage {
  if (decision !== null) return 'done'
  if (cycle.lockedAt === null) return 'plan'
  if (counted === null) return 'ready'
  if (counted.readings.length === 0) return 'running'
  return counted.right === null ? 'inspect' : 'debrief'
}

function predictionsOf({ table, predictions }: TableRows, cycle: Cycle): RoundPredictions | null {
  const own = predictions.filter(({ cycleId }) => cycleId === cycle.id)
  const first = own[0]
  if (first === undefined) return null
  const of = (measureId: string) => {
    const found = own.find((p) => p.measureId === measureId)
    if (found === undefined) return null
    const { expected, low, high } = found
    if (expected === null || low === null || high === null) return null
    return { expected, low, high }
  }
  return {
    time: of(table.timeMeasureId),
    quality: of(table.qualityMeasureId),
    confidence: first.confidence,
    why: first.why,
  }
}

function trialState(rows: TableRows, trial: Trial): TrialState {
  const mine = <T extends { readonly trialId: string | null }>(list: readonly T[]) =>
    list.filter(({ trialId }) => trialId === trial.id)
  const readings = mine(rows.readings)
  const inspections = mine(rows.inspections)
  const observed = mine(rows.observations)
  const time = observed.find(({ measureId }) => measureId === rows.table.timeMeasureId)
  const quality = observed.find(({ measureId }) => measureId === rows.table.qualityMeasureId)
  // The record says so, not the settings, which may have changed since.
  const leftOut = trial.voidReason === null && (time?.leftOutReason ?? null) !== null
  return {
    id: trial.id,
    number: trial.number,
    startedAt: trial.at,
    startedBySeatId:
      rows.starts.find(({ at }) => at === trial.at)?.seatId ?? readings[0]?.seatId ?? null,
    voidReason: trial.voidReason,
    readings: readings.map(({ id, seatId, by, seconds, how, note, kept }) => ({
      id,
      seatId,
      by,
      seconds,
      how,
      note,
      kept: kept === null ? null : kept === 1,
    })),
    // The observation is what counts: a reading that came after the decision changes nothing.
    seconds: leftOut ? null : (time?.value ?? null),
    unsettled: leftOut && settle(readings, 0).unsettled,
    inspections: inspections.map((inspection) => ({
      id: inspection.id,
      seatId: inspection.seatId,
      by: inspection.by,
      ...lookOf(inspection),
    })),
    right: quality?.numerator ?? null,
    inspected: quality?.denominator ?? null,
  }
}
