import { type Study, studyOf } from '../domain/finding.ts'
import type { Cycle } from '../domain/record.ts'
import { allCycleRows, predictionsOf } from '../storage/cycles.ts'
import { allMeasureRows } from '../storage/measures.ts'
import type { Write } from '../storage/record.ts'

/** What the figures say about a test, from the record alone. */
export async function studyOfTest(read: Write['read'], cycle: Cycle): Promise<Study> {
  const predictions = await predictionsOf(read, cycle.id)
  const measures = await allMeasureRows(read, cycle.projectId)
  return studyOf({ cycle, predictions }, measures, await allCycleRows(read, cycle.projectId))
}
