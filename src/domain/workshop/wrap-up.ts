import type { Id } from '../record.ts'
import type { RoomState } from './room-state.ts'
import {
  type InspectorAgreement,
  inspectorAgreement,
  type TimerAgreement,
  timerAgreement,
} from './wrap-up-agreement.ts'
import { type ConfidenceChange, confidenceChange } from './wrap-up-confidence.ts'
import { type DecisionYield, decisionYields } from './wrap-up-decisions.ts'
import { type Learning, learningOf, type Spread, spreadOf } from './wrap-up-learning.ts'
import { type PredictionFinding, predictionsOf } from './wrap-up-predictions.ts'
import { type CorrectResult, correctResults, type Trade, tradesOf } from './wrap-up-quality.ts'
import { countedTables, type RoundRow, roundRows } from './wrap-up-rounds.ts'

/** Everything the wrap-up says, as figures. The same for the class and for one table. */
export interface WrapUp {
  /** `null`: the class. */
  readonly tableId: Id | null
  /** Tables that count. */
  readonly tables: number
  readonly rows: readonly RoundRow[]
  readonly learning: Learning
  /** `null` for one table. */
  readonly spread: Spread | null
  readonly correct: readonly CorrectResult[]
  readonly trades: readonly Trade[]
  readonly predictions: PredictionFinding
  readonly decisions: readonly DecisionYield[]
  readonly timers: TimerAgreement
  readonly inspectors: InspectorAgreement
  /** `null` for one table, with so few people it would show single answers, and for who may not see them. */
  readonly confidence: ConfidenceChange | null
}

/**
 * What a workshop found, from the room as a viewer sees it.
 *
 * @param state   The room; tables that were removed do not count.
 * @param tableId One table, or `null` for the class.
 */
export function wrapUp(state: RoomState, tableId: Id | null = null): WrapUp {
  const rows = roundRows(state, tableId)
  const { kit, settings } = state.room
  return {
    tableId,
    tables: countedTables(state, tableId).length,
    rows,
    learning: learningOf(rows),
    spread: tableId === null ? spreadOf(rows) : null,
    correct: correctResults(rows, kit.checklist.length),
    trades: tradesOf(rows),
    predictions: predictionsOf(rows, settings.predicts),
    decisions: decisionYields(rows),
    timers: timerAgreement(rows),
    inspectors: inspectorAgreement(rows),
    confidence: tableId === null && state.viewer.as === 'lead' ? confidenceChange(state) : null,
  }
}
