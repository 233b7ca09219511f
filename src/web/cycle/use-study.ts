import { useMemo } from 'react'
import type { CycleReply } from '../../api/contract.ts'
import { type Study, studyOf } from '../../domain/finding.ts'

/** What the figures of a test say, computed once for Study and Act. */
export function useStudy({ cycle, predictions, measures, siblings }: CycleReply): Study {
  return useMemo(
    () => studyOf({ cycle, predictions }, measures, siblings),
    [cycle, predictions, measures, siblings],
  )
}
