import { findCycle, rampNoteOf } from '../../storage/cycles.ts'
import { notFound } from '../../storage/record.ts'
import type { Handlers } from '../call.ts'

export const rampRoutes: Handlers<'PUT /api/ramps/:id/note'> = {
  'PUT /api/ramps/:id/note': async ({ db, params, body, me, at }) =>
    db.record({ action: 'ramp.note', by: me, at }, async (write) => {
      const first = await findCycle(write.read, params.id)
      if (first === undefined || first.rampId !== first.id) throw notFound('cycle', params.id)
      const { id, text, version } = body
      const there = await rampNoteOf(write.read, first.id)
      if (there === undefined)
        return write.insert('rampNote', {
          id,
          projectId: first.projectId,
          rampId: first.id,
          text,
          version: 1,
        })
      // Somebody else wrote the first one meanwhile: no version of theirs was seen.
      return write.update('rampNote', there.id, version ?? 0, { text })
    }),
}
