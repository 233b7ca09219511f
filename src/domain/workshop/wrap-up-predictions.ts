import { byStep, type CalibrationSummary, calibrationSummary } from '../calibration-summary.ts'
import type { JudgedPrediction } from '../judged-predictions.ts'
import type { Expectation } from './moves.ts'
import type { RoomSettings } from './room.ts'
import type { RoundRow } from './wrap-up-rounds.ts'

/** Predictions of one round of the room. */
interface RoundCalibration {
  readonly round: number
  readonly n: number
  readonly inside: number
  /** Mean width of the ranges over the expected value. */
  readonly width: number | null
  /** Mean log ratio of expected to real time: above 0 predicted too long. */
  readonly timeBias: number | null
}

/** How the tables' locked predictions came out. */
export interface PredictionFinding {
  /** A single number has no range, so nothing can fall inside it. */
  readonly predicts: RoomSettings['predicts']
  /** Time and quality together; `null`: none has an outcome. */
  readonly all: CalibrationSummary | null
  readonly time: CalibrationSummary | null
  readonly quality: CalibrationSummary | null
  readonly rounds: readonly RoundCalibration[]
}

/**
 * Coverage, bias and width of the locked predictions of time and items right, by round of the room.
 *
 * @see Wilson (1927), JASA 22:209; Tofallis (2015), J Oper Res Soc 66:1352.
 */
export function predictionsOf(
  rows: readonly RoundRow[],
  predicts: RoomSettings['predicts'],
): PredictionFinding {
  const time = rows.flatMap((row) => judged(row, 'Time', row.predictions?.time, row.seconds))
  const quality = rows.flatMap((row) =>
    judged(row, 'Items right', row.predictions?.quality, row.share),
  )
  const all = [...time, ...quality]
  const numbers = [...new Set(all.map((p) => p.step))].sort((a, b) => a - b)
  const rounds = byStep(all).map(({ n, inside, width }, i) => {
    const round = numbers[i]!
    const own = calibrationSummary(time.filter((p) => p.step === round))
    return { round, n, inside, width, timeBias: own?.bias ?? null }
  })
  return {
    predicts,
    all: calibrationSummary(all),
    time: calibrationSummary(time),
    quality: calibrationSummary(quality),
    rounds,
  }
}

function judged(
  row: RoundRow,
  measureName: string,
  expectation: Expectation | null | undefined,
  outcome: number | null,
): JudgedPrediction[] {
  const { predictions, state, table, tableId, round } = row
  if (predictions === null || expectation == null || outcome === null) return []
  return [
    {
      cycleId: state.cycleId,
      projectId: tableId,
      title: `${table}, round ${round}`,
      measureName,
      better: measureName === 'Time' ? 'down' : 'up',
      step: round,
      lockedAt: state.lockedAt!,
      ...expectation,
      confidence: predictions.confidence,
      outcome,
    },
  ]
}
