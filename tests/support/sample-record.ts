import { openCycle } from '../../src/domain/carry-over.ts'
import { lockExperiment, openExperiment } from '../../src/domain/experiment.ts'
import type { Cycle, Id, Measure, Origin, Prediction } from '../../src/domain/record.ts'
import type { Write } from '../../src/storage/record.ts'

export const NOW = '2026-03-02T09:15:00.000Z'
export const OWNER = { id: sampleId('P', 1), name: 'R. Marsh' }

/** A readable id: a letter for the kind, a number for which. */
export function sampleId(kind: string, n: number): Id {
  return `01J000000000000000000${kind}${String(n).padStart(4, '0')}`
}

/** A unit, an owner without a password, a project, a measure, and two tests: one locked, one open. */
export async function writeSample(write: Write, origin: Origin = 'own', series = 0) {
  const n = (k: number) => series * 100 + k
  const unit = { id: sampleId('T', n(1)), parentId: null, name: 'Ward 4', origin, version: 1 }
  await write.insert('unit', unit)
  if (series === 0)
    await write.insert('person', {
      ...OWNER,
      email: null,
      role: 'owner',
      passwordHash: null,
      closedAt: null,
      origin: 'own',
      version: 1,
    })
  const project = {
    id: sampleId('J', n(1)),
    unitId: unit.id,
    name: 'Summaries',
    aim: '',
    leadId: null,
    origin,
    createdAt: NOW,
    version: 1,
  }
  await write.insert('project', project)
  const measure: Measure = {
    id: sampleId('M', n(1)),
    projectId: project.id,
    name: 'Sent in time',
    role: 'process',
    dataKind: 'classified',
    valueFormat: 'number',
    unitLabel: 'summaries',
    per: 1,
    better: 'up',
    operationalDefinition: '',
    collectionPlan: '',
    goal: 0.8,
    chartKind: 'auto',
    ruleSet: 'auto',
    unitId: null,
    sameAsId: null,
    version: 1,
  }
  await write.insert('measure', measure)
  const cycles: Cycle[] = []
  const predictions: Prediction[] = []
  for (const k of [1, 2]) {
    const cycle = openCycle(
      {
        id: sampleId('C', n(k)),
        projectId: project.id,
        number: k,
        title: `Test ${k}`,
        createdAt: NOW,
        origin,
      },
      null,
    )
    const prediction: Prediction = {
      id: sampleId('R', n(k)),
      cycleId: cycle.id,
      measureId: measure.id,
      expected: 0.7,
      low: 0.6,
      high: 0.8,
      confidence: 0.8,
      why: 'As last time.',
      version: 1,
    }
    cycles.push(await write.insert('cycle', cycle))
    predictions.push(await write.insert('prediction', prediction))
  }
  const locked = await write.update('cycle', cycles[0]!.id, 1, {
    lockedAt: NOW,
    lockedById: OWNER.id,
  })
  const addendum = {
    id: sampleId('A', n(1)),
    cycleId: locked.id,
    predictionId: null,
    text: 'Bay D takes part as well.',
    at: NOW,
    byId: OWNER.id,
  }
  await write.insert('addendum', addendum)
  const decision = {
    id: sampleId('D', n(1)),
    cycleId: locked.id,
    kind: 'adopt' as const,
    reason: 'It worked.',
    nextChange: '',
    suggestedKind: null,
    suggestedReasons: null,
    differsBecause: null,
    at: NOW,
    byId: OWNER.id,
  }
  await write.insert('decision', decision)
  return {
    unit,
    project,
    measure,
    locked,
    open: cycles[1]!,
    lockedPrediction: predictions[0]!,
    openPrediction: predictions[1]!,
    addendum,
    decision,
  }
}

/** Two planned experiments of two changes: one locked with its first response in, one open. */
export async function writeExperiments(write: Write, origin: Origin = 'own', series = 0) {
  const n = (k: number) => series * 100 + k
  const projectId = sampleId('J', n(1))
  for (const k of [1, 2]) {
    const experiment = {
      ...openExperiment({
        id: sampleId('E', n(k)),
        projectId,
        title: `Plan ${k}`,
        createdAt: NOW,
        origin,
      }),
      question: 'Which of the two?',
      response: 'the time',
      generators: '',
      determination: 'exercise' as const,
      couldHarm: 'no' as const,
    }
    await write.insert('experiment', experiment)
    const factors = ['Card', 'Tray'].map((name, i) => ({
      id: sampleId('F', n(10 * k + i)),
      experimentId: experiment.id,
      position: i + 1,
      name,
      low: 'off',
      high: 'on',
      middle: '',
      expected: 1,
      why: '',
      version: 1,
    }))
    for (const factor of factors) await write.insert('experimentFactor', factor)
    if (k === 2) continue
    const { experiment: locked, runs } = lockExperiment(experiment, factors, [], {
      seed: 1,
      byId: OWNER.id,
      at: NOW,
    })
    const ids = runs.map((_, i) => sampleId('N', n(i + 1)))
    for (const [i, run] of runs.entries())
      await write.insert('experimentRun', { ...run, id: ids[i]! })
    await write.update('experiment', experiment.id, null, locked)
    await write.update('experimentRun', ids[0]!, null, { response: 4, at: NOW, byId: OWNER.id })
  }
}
