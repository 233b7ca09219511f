import { decide, finishDo, finishStudy, mustBeRunning } from '../../domain/cycle.ts'
import { observationsOfTest } from '../../domain/outcome.ts'
import { suggestDecision } from '../../domain/suggestion.ts'
import { AppError } from '../../errors.ts'
import { predictionsOf } from '../../storage/cycles.ts'
import { observationsOf } from '../../storage/measures.ts'
import { newId } from '../call.ts'
import { studyOfTest } from '../study-of-test.ts'
import { type Done, type MoveContext, type MoveOf, nameOf, tableToMove } from './move-context.ts'
import { addNote, mustFindRound, openRound } from './round-writes.ts'

/** Do and Study in the table's words, and what it does next; opens the next round. */
export async function decideRound(context: MoveContext, move: MoveOf<'decide'>): Promise<Done> {
  const { write, at, receivedAt, settings } = context
  const table = await tableToMove(context, move)
  const { cycle, decision: earlier } = await mustFindRound(context, table, move.round)
  if (earlier !== null) {
    const same =
      earlier.kind === move.decision &&
      earlier.reason === move.reason.trim() &&
      earlier.nextChange === move.nextChange.trim() &&
      cycle.learned === move.learned
    if (same) return { tableId: table.id }
    await addNote(
      context,
      table,
      cycle,
      [
        `${nameOf(context.mover) || 'A second phone'} decided too, after the first: ${move.decision}`,
        `Reason: ${move.reason}`,
        `Next change: ${move.nextChange}`,
        `Learned: ${move.learned}`,
        `Prediction: ${move.predictionReview}`,
        `Surprises: ${move.surprises}`,
      ].join('\n'),
    )
    return {
      tableId: table.id,
      refused: new AppError(
        'cycle.closed',
        `Round ${move.round} was decided before (${earlier.kind}).`,
        'What you wrote is kept beside it. Go on with the next round.',
        { cycleId: cycle.id },
      ),
    }
  }
  mustBeRunning(cycle, earlier)
  const { surprises, learned, predictionReview } = move
  let observed = 0
  for (const { measureId } of await predictionsOf(write.read, cycle.id))
    observed += observationsOfTest(cycle, await observationsOf(write.read, measureId)).length
  const written = { ...cycle, surprises, learned, predictionReview }
  const studied = finishStudy(finishDo(written, null, observed, at), null, at)
  const decision = decide(
    studied,
    null,
    {
      id: newId(receivedAt),
      kind: move.decision,
      reason: move.reason,
      nextChange: move.nextChange,
    },
    table.id,
    at,
    suggestDecision(await studyOfTest(write.read, studied)),
  )
  const { ranFrom, ranTo, doneAt, studiedAt } = studied
  const after = { surprises, learned, predictionReview, ranFrom, ranTo, doneAt, studiedAt }
  await write.update('cycle', cycle.id, null, after)
  await write.insert('decision', decision)
  if (move.round < settings.rounds) await openRound(context, table, move.round + 1)
  return { tableId: table.id }
}
