import { changeRun, lockExperiment, openExperiment } from '../../domain/experiment.ts'
import type { ExperimentFactor, ExperimentRun } from '../../domain/experiment-record.ts'
import type { Id, Instant, Measure } from '../../domain/record.ts'
import type { Write } from '../../storage/record.ts'
import { newId } from '../call.ts'
import { moment, secondsLater } from './calendar.ts'
import type { ExperimentStory } from './story.ts'

interface Loading {
  readonly write: Write
  readonly now: Instant
  readonly people: readonly Id[]
}

/** Writes an experiment of the example, through the rules that every plan, lock and run obeys. */
export async function writeExperiment(
  { write, now, people }: Loading,
  projectId: Id,
  measures: ReadonlyMap<string, Measure>,
  story: ExperimentStory,
): Promise<void> {
  const { plan, locked, runs, learned } = story
  const opened = openExperiment({
    id: newId(now),
    projectId,
    title: plan.title,
    createdAt: moment(story.madeOn, '08:30'),
    origin: 'example',
  })
  const experiment = await write.insert('experiment', {
    ...opened,
    ...plan,
    measureId: story.measure === undefined ? null : measures.get(story.measure)!.id,
  })
  const factors: ExperimentFactor[] = []
  for (const factor of story.factors)
    factors.push(
      await write.insert('experimentFactor', {
        ...factor,
        id: newId(now),
        experimentId: experiment.id,
        position: factors.length + 1,
        middle: '',
        version: 1,
      }),
    )
  const byId = people[locked.by]!
  const drawn = lockExperiment(experiment, factors, [...measures.values()], { ...locked, byId })
  const sheet: ExperimentRun[] = []
  for (const run of drawn.runs)
    sheet.push(await write.insert('experimentRun', { ...run, id: newId(now) }))
  await write.update('experiment', experiment.id, null, drawn.experiment)
  // Filled in from the top in the order drawn; a repeat takes the next response of its combination.
  const seen = new Map<string, number>()
  for (const [i, run] of sheet.slice(0, runs.done).entries()) {
    const repeat = seen.get(run.levels) ?? 0
    seen.set(run.levels, repeat + 1)
    const response = runs.responses[run.levels]![repeat]!
    const at = secondsLater(runs.first, i * runs.minutesApart * 60)
    const change = changeRun(drawn.experiment, run, { response }, byId, at)
    await write.update('experimentRun', run.id, null, change)
  }
  if (learned !== '') await write.update('experiment', experiment.id, null, { learned })
}
