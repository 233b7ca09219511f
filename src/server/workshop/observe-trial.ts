import type { Id, Observation } from '../../domain/record.ts'
import { combine, isCountOnly } from '../../domain/workshop/inspecting.ts'
import type { Inspection, Reading } from '../../domain/workshop/room.ts'
import { lookOf } from '../../domain/workshop/table-state.ts'
import { settle, unsettledReason } from '../../domain/workshop/timing.ts'
import { prepared } from '../../storage/prepared.ts'
import { newId } from '../call.ts'
import type { MoveContext, TrialToMove } from './move-context.ts'

/** What readings and inspections of a trial come to, as ordinary observations of its measures. */

export const readingsOf = ({ write }: MoveContext, trialId: Id): Promise<Reading[]> =>
  prepared(write.read, 'readings of trial', [trialId], (given) =>
    write.read.selectFrom('reading').selectAll().where('trialId', '=', given).orderBy('id'),
  )

export const inspectionsOf = ({ write }: MoveContext, trialId: Id): Promise<Inspection[]> =>
  prepared(write.read, 'inspections of trial', [trialId], (given) =>
    write.read.selectFrom('inspection').selectAll().where('trialId', '=', given).orderBy('id'),
  )

/** Brings the time that counts up to date. @param note `null`: as it is. */
export async function observeTime(
  context: MoveContext,
  whole: TrialToMove,
  note: string | null,
): Promise<void> {
  const readings = await readingsOf(context, whole.trial.id)
  if (readings.length === 0) return
  const counted = readings.filter(({ kept }) => kept !== 0).map(({ seconds }) => seconds)
  const { seconds, apart } = settle(readings, context.settings.timersAgreeWithin)
  const mean = counted.reduce((sum, s) => sum + s, 0) / counted.length
  await observe(context, whole, whole.table.timeMeasureId, {
    value: seconds ?? mean,
    numerator: null,
    denominator: null,
    leftOutReason: whole.trial.voidReason ?? (seconds === null ? unsettledReason(apart) : null),
    ...(note === null ? {} : { note }),
  })
}

/** Brings the items right up to date. */
export async function observeQuality(context: MoveContext, whole: TrialToMove): Promise<void> {
  const inspections = await inspectionsOf(context, whole.trial.id)
  if (inspections.length === 0) return
  const looks = inspections.map(lookOf)
  const { right, inspected } = combine(looks)
  const counted = looks.some(({ rightCount }) => rightCount !== null)
  await observe(context, whole, whole.table.qualityMeasureId, {
    value: null,
    numerator: right,
    denominator: inspected,
    leftOutReason: whole.trial.voidReason,
    ...(counted ? { note: isCountOnly(looks) ? COUNT_ONLY : '' } : {}),
  })
}

const COUNT_ONLY = 'Count only: which items were right is not recorded.'

async function observe(
  { write, receivedAt }: MoveContext,
  { trial, cycle }: TrialToMove,
  measureId: Id,
  values: Pick<Observation, 'value' | 'numerator' | 'denominator' | 'leftOutReason'> &
    Partial<Pick<Observation, 'note'>>,
): Promise<void> {
  const [there] = await prepared(
    write.read,
    'observation of trial',
    [cycle.id, trial.id, measureId],
    (ofCycle, ofTrial, ofMeasure) =>
      write.read
        .selectFrom('observation')
        .select('id')
        .where('cycleId', '=', ofCycle)
        .where('trialId', '=', ofTrial)
        .where('measureId', '=', ofMeasure),
  )
  if (there !== undefined) {
    await write.update('observation', there.id, null, values)
    return
  }
  await write.insert('observation', {
    note: '',
    ...values,
    id: newId(receivedAt),
    measureId,
    cycleId: cycle.id,
    trialId: trial.id,
    at: trial.at,
    version: 1,
  })
}
