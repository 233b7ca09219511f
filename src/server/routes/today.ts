import type { TodayItem } from '../../api/contract.ts'
import { experimentWaitingFor } from '../../domain/experiment-waiting.ts'
import type { Project } from '../../domain/record.ts'
import { waitingFor } from '../../domain/today.ts'
import { allCycleRows } from '../../storage/cycles.ts'
import { allExperimentRows } from '../../storage/experiments.ts'
import { allMeasureRows, type MeasureRows } from '../../storage/measures.ts'
import { listUnits, listWardProjects } from '../../storage/units.ts'
import type { Handlers } from '../call.ts'

/** A signal is new while it reaches one of so many last points and nobody has noted anything since. */
const RECENT_POINTS = 2

/** An item refers to one of these. */
const NOTHING = { cycleId: null, measureId: null, experimentId: null } as const

export const todayRoutes: Handlers<'GET /api/today'> = {
  'GET /api/today': async ({ db, at }) => {
    const today = at.slice(0, 10)
    const units = new Map((await listUnits(db.read)).map((u) => [u.id, u.name]))
    const projects = new Map((await listWardProjects(db.read)).map((p) => [p.id, p]))
    const place = (project: Project) => ({
      projectId: project.id,
      projectName: project.name,
      unitName: units.get(project.unitId) ?? '',
    })
    const items: TodayItem[] = []
    for (const { cycle, decision } of await allCycleRows(db.read, null)) {
      const waiting = waitingFor(cycle, decision, today)
      const project = projects.get(cycle.projectId)
      if (waiting === null || project === undefined) continue
      const name = `Test ${cycle.number}: ${cycle.title}`
      items.push({ ...NOTHING, ...waiting, cycleId: cycle.id, name, ...place(project) })
    }
    for (const { experiment, runs } of await allExperimentRows(db.read, null)) {
      const waiting = experimentWaitingFor(experiment, runs)
      const project = projects.get(experiment.projectId)
      if (waiting === null || project === undefined) continue
      const name = `Several changes at once: ${experiment.title}`
      items.push({ ...NOTHING, ...waiting, experimentId: experiment.id, name, ...place(project) })
    }
    for (const rows of await allMeasureRows(db.read, null)) {
      const signal = await newSignal(rows)
      const project = projects.get(rows.measure.projectId)
      if (signal === null || project === undefined) continue
      const { id, name } = rows.measure
      items.push({
        ...NOTHING,
        kind: 'signal',
        ...signal,
        measureId: id,
        name,
        ...place(project),
      })
    }
    return { items: items.sort((a, b) => (a.since < b.since ? -1 : a.since > b.since ? 1 : 0)) }
  },
}

/** The newest signal of a measure's chart that waits to be looked at. */
async function newSignal(rows: MeasureRows): Promise<{ since: string; text: string } | null> {
  const { analysisOf } = await import('../../domain/series.ts')
  const analysis = readable(() => analysisOf(rows))
  if (analysis === null) return null
  const noted = rows.annotations.at(-1)?.at ?? ''
  const first = analysis.points.length - RECENT_POINTS
  const fresh = analysis.signals.filter(({ points }) => {
    const last = points.at(-1) ?? -1
    return last >= first && analysis.points[last]!.at.slice(0, 10) > noted
  })
  const newest = fresh.at(-1)
  if (newest === undefined) return null
  const day = analysis.points[newest.points.at(-1)!]!.at
  return { since: `${day.slice(0, 10)}T00:00:00.000Z`, text: newest.text }
}

/** A chart that its data do not allow says so on its own page; it has no signal here. */
function readable<T>(analyze: () => T | null): T | null {
  try {
    return analyze()
  } catch {
    return null
  }
}
