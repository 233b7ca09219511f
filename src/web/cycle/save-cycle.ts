import { PLAN_FIELDS } from '../../domain/carry-over.ts'
import type { Cycle } from '../../domain/record.ts'
import { call } from '../lib/api.ts'

const DO_FIELDS = ['ranFrom', 'ranTo', 'happened', 'wentWrong', 'surprises'] as const
const STUDY_FIELDS = ['learned', 'predictionReview'] as const

function pick(changes: Partial<Cycle>, fields: readonly (keyof Cycle)[]): Partial<Cycle> | null {
  const found = fields.filter((field) => field in changes)
  if (found.length === 0) return null
  return Object.fromEntries(found.map((field) => [field, changes[field]])) as Partial<Cycle>
}

/** Sends changed fields of a test to the stage they belong to, one after the other. */
export async function saveCycle(
  id: string,
  changes: Partial<Cycle>,
  version: number,
): Promise<Cycle> {
  const stages = [
    ['PATCH /api/cycles/:id/plan', pick(changes, PLAN_FIELDS)],
    ['PATCH /api/cycles/:id/do', pick(changes, DO_FIELDS)],
    ['PATCH /api/cycles/:id/study', pick(changes, STUDY_FIELDS)],
  ] as const
  let saved: Cycle | null = null
  for (const [route, part] of stages) {
    if (part === null) continue
    const on: number = saved?.version ?? version
    saved = await call(route, { params: { id }, body: { ...part, version: on } })
  }
  if (saved === null) throw new Error(`No field of a test among ${Object.keys(changes).join()}.`)
  return saved
}
