import { openCycle } from '../../src/domain/carry-over.ts'
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
