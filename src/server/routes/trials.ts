import { mustBeOpen, mustBeRunning } from '../../domain/cycle.ts'
import type { Observation } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { nextTrialNumber } from '../../storage/cycles.ts'
import { measuresOfProject } from '../../storage/measures.ts'
import type { Handlers } from '../call.ts'
import { mustBeValid, observationIssues } from '../check-observation.ts'
import { cycleToChange } from './cycles.ts'

export const trialRoutes: Handlers<'POST /api/cycles/:id/trials' | 'PATCH /api/trials/:id'> = {
  'POST /api/cycles/:id/trials': async ({ db, params, body, me, at }) =>
    db.record({ action: 'trial.create', by: me, at }, async (write) => {
      const { cycle, decision } = await cycleToChange(write, params.id, null)
      mustBeRunning(cycle, decision)
      const measures = await measuresOfProject(write.read, cycle.projectId)
      const issues = body.observations.flatMap((row, i) => {
        const measure = measures.find((m) => m.id === row.measureId)
        if (measure !== undefined) return observationIssues(measure, row, `observations.${i}`)
        throw new AppError(
          'record.elsewhere',
          'A value of this trial belongs to a measure of another project.',
          'Choose measures of the same project.',
          { measureId: row.measureId },
        )
      })
      mustBeValid(issues)
      const trial = await write.insert('trial', {
        id: body.id,
        cycleId: cycle.id,
        number: await nextTrialNumber(write.read, cycle.id),
        at: body.at,
        byId: me.id,
        note: body.note,
        voidReason: null,
        version: 1,
      })
      const observations: Observation[] = []
      for (const row of body.observations) {
        const made = { ...row, cycleId: cycle.id, trialId: trial.id, version: 1 }
        observations.push(await write.insert('observation', made))
      }
      return { trial, observations }
    }),

  'PATCH /api/trials/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'trial.change', by: me, at }, async (write) => {
      const { version, ...change } = body
      const before = await write.current('trial', params.id, version, change)
      const { cycle, decision } = await cycleToChange(write, before.cycleId, null)
      mustBeOpen(cycle, decision)
      const trial = await write.update('trial', params.id, null, change)
      if (trial.voidReason !== before.voidReason) {
        // Values left out for a reason of their own keep it.
        const own = await write.read
          .selectFrom('observation')
          .select(['id', 'leftOutReason'])
          .where('cycleId', '=', trial.cycleId)
          .where('trialId', '=', trial.id)
          .execute()
        for (const { id, leftOutReason } of own)
          if (leftOutReason === before.voidReason)
            await write.update('observation', id, null, { leftOutReason: trial.voidReason })
      }
      return trial
    }),
}
