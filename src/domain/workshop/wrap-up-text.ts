import type { WrapUp } from './wrap-up.ts'
import { confidenceText, inspectorsText, timersText } from './wrap-up-agreement-text.ts'
import { learningText, spreadText } from './wrap-up-learning-text.ts'
import { predictionText } from './wrap-up-prediction-text.ts'
import { correctText, decisionsText, tradesText } from './wrap-up-quality-text.ts'
import type { WrapUpPart } from './wrap-up-words.ts'

/** The findings of a workshop or of one table, in sentences, in the order of the page. */
export function wrapUpText(found: WrapUp): WrapUpPart[] {
  const oneTable = found.tableId !== null
  return [
    learningText(found.learning, oneTable),
    found.spread === null ? null : spreadText(found.spread),
    correctText(found.correct, oneTable),
    tradesText(found.trades, oneTable),
    predictionText(found.predictions),
    decisionsText(found.decisions),
    timersText(found.timers),
    inspectorsText(found.inspectors),
    found.confidence === null ? null : confidenceText(found.confidence),
  ].filter((part) => part !== null)
}
