import { z } from 'zod'
import { byUnitReply } from './by-unit.ts'
import type { ErrorReply, RouteName, Routes } from './contract.ts'
import { findingsReply } from './findings.ts'
import * as r from './records.ts'
import { workshopReplies } from './workshop-replies.ts'

const removed = z.object({ removed: z.int() })
const personName = z.object({ id: r.person.shape.id, name: r.person.shape.name })

const sessionReply = z.object({
  me: z
    .object({ id: r.person.shape.id, name: z.string(), email: z.string(), role: r.role })
    .nullable(),
  needsOwner: z.boolean(),
  csrf: z.string(),
  example: z.enum(['absent', 'present']),
  version: z.string(),
})
const cycleBrief = z.object({
  cycle: r.cycle,
  predictions: z.array(r.prediction),
  decision: r.decision.nullable(),
})
const measureData = z.object({
  measure: r.measure,
  observations: z.array(r.observation),
  phases: z.array(r.phase),
  annotations: z.array(r.annotation),
})
const experimentBrief = z.object({
  experiment: r.experiment,
  factors: z.array(r.experimentFactor),
  runs: z.array(r.experimentRun),
})
const inProject = z.object({ unit: r.unit, project: r.project })
const importPreview = z.object({
  header: z.array(z.string()),
  columns: z.record(z.string(), z.string().nullable()),
  rows: z.array(
    z.object({
      row: z.int(),
      at: z.string(),
      value: z.number().nullable(),
      numerator: z.number().nullable(),
      denominator: z.number().nullable(),
      note: z.string(),
    }),
  ),
  issues: z.array(
    z.object({
      row: z.int().nullable(),
      column: z.string().nullable(),
      code: z.string(),
      message: z.string(),
    }),
  ),
  alreadyThere: z.array(z.int()),
})
const todayItem = z.object({
  kind: z.enum(['lock', 'collect', 'study', 'decide', 'signal']),
  since: z.string(),
  cycleId: r.cycle.shape.id.nullable(),
  measureId: r.measure.shape.id.nullable(),
  experimentId: r.experiment.shape.id.nullable(),
  name: z.string(),
  projectId: r.project.shape.id,
  projectName: z.string(),
  unitName: z.string(),
  text: z.string(),
})

const judged = z.object({
  predictions: z.array(
    z.object({
      cycleId: r.cycle.shape.id,
      projectId: r.project.shape.id,
      title: z.string(),
      measureName: z.string(),
      better: r.measure.shape.better,
      step: z.int(),
      lockedAt: z.string(),
      low: z.number(),
      expected: z.number(),
      high: z.number(),
      confidence: z.number(),
      outcome: z.number(),
    }),
  ),
  hindsight: z.int(),
})
const calibrationReply = judged.extend({ name: z.string(), exercises: judged })

const roomCalibrationReply = z.object({
  name: z.string(),
  pointsOnly: z.boolean(),
  predictions: calibrationReply.shape.predictions,
  hindsight: calibrationReply.shape.hindsight,
})

export const errorReply = z.object({
  code: z.string(),
  message: z.string(),
  hint: z.string(),
  details: z.record(z.string(), z.unknown()),
}) satisfies z.ZodType<ErrorReply>

/** What each route answers, for its description; replies are not checked again on their way out. */
export const replies = {
  'GET /api/session': sessionReply,
  'POST /api/owner': sessionReply,
  'POST /api/session': sessionReply,
  'DELETE /api/session': sessionReply,
  'POST /api/password': sessionReply,
  'GET /api/today': z.object({ items: z.array(todayItem) }),
  'GET /api/calibration/organisation': calibrationReply,
  'GET /api/calibration/units/:id': calibrationReply,
  'GET /api/calibration/projects/:id': calibrationReply,
  'GET /api/calibration/people/:id': calibrationReply,
  'GET /api/calibration/tables/:id': roomCalibrationReply,
  'GET /api/calibration/workshops/:id': roomCalibrationReply,
  'POST /api/example': z.object({ projectId: r.project.shape.id }),
  'DELETE /api/example': removed,
  'GET /api/people': z.object({ people: z.array(r.person) }),
  'POST /api/people': r.person,
  'PATCH /api/people/:id': r.person,
  'GET /api/units': z.object({ units: z.array(r.unit), projects: z.array(r.project) }),
  'POST /api/units': r.unit,
  'PATCH /api/units/:id': r.unit,
  'DELETE /api/units/:id': removed,
  'POST /api/projects': r.project,
  'GET /api/projects/:id': inProject.extend({
    measures: z.array(measureData),
    units: z.array(r.unit),
    cycles: z.array(cycleBrief),
    rampNotes: z.array(r.rampNote),
    people: z.array(r.person),
  }),
  'GET /api/projects/:id/by-unit': byUnitReply,
  'PATCH /api/projects/:id': r.project,
  'POST /api/measures': r.measure,
  'GET /api/measures/:id': inProject.extend(measureData.shape).extend({
    family: z.array(r.measure),
    units: z.array(r.unit),
    cycles: z.array(cycleBrief),
  }),
  'PATCH /api/measures/:id': r.measure,
  'POST /api/measures/:id/observations': z.object({ observations: z.array(r.observation) }),
  'POST /api/measures/:id/import/preview': importPreview,
  'POST /api/measures/:id/import': z.object({
    imported: z.int(),
    observations: z.array(r.observation),
  }),
  'POST /api/phases': r.phase,
  'PATCH /api/phases/:id': r.phase,
  'DELETE /api/phases/:id': removed,
  'POST /api/annotations': r.annotation,
  'PATCH /api/annotations/:id': r.annotation,
  'DELETE /api/annotations/:id': removed,
  'PUT /api/ramps/:id/note': r.rampNote,
  'POST /api/cycles': cycleBrief,
  'GET /api/cycles/:id': inProject.extend(cycleBrief.shape).extend({
    addenda: z.array(r.addendum),
    trials: z.array(r.trial),
    measures: z.array(measureData),
    siblings: z.array(cycleBrief),
    people: z.array(personName),
  }),
  'GET /api/cycles/:id/findings': findingsReply,
  'PATCH /api/cycles/:id/plan': r.cycle,
  'PUT /api/cycles/:id/predictions/:predictionId': r.prediction,
  'DELETE /api/cycles/:id/predictions/:predictionId': removed,
  'POST /api/cycles/:id/lock': r.cycle,
  'POST /api/cycles/:id/addenda': r.addendum,
  'PATCH /api/cycles/:id/do': r.cycle,
  'POST /api/cycles/:id/trials': z.object({
    trial: r.trial,
    observations: z.array(r.observation),
  }),
  'PATCH /api/trials/:id': r.trial,
  'POST /api/cycles/:id/done': r.cycle,
  'PATCH /api/cycles/:id/study': r.cycle,
  'POST /api/cycles/:id/studied': r.cycle,
  'POST /api/cycles/:id/decision': z.object({
    cycle: r.cycle,
    decision: r.decision,
    next: cycleBrief.nullable(),
  }),
  ...workshopReplies,
  'GET /api/projects/:id/experiments': inProject.extend({
    experiments: z.array(experimentBrief),
  }),
  'POST /api/experiments': experimentBrief,
  'GET /api/experiments/:id': inProject.extend(experimentBrief.shape).extend({
    measures: z.array(r.measure),
    people: z.array(personName),
  }),
  'PATCH /api/experiments/:id/plan': r.experiment,
  'DELETE /api/experiments/:id': removed,
  'PUT /api/experiments/:id/factors/:factorId': r.experimentFactor,
  'DELETE /api/experiments/:id/factors/:factorId': removed,
  'POST /api/experiments/:id/lock': experimentBrief,
  'PATCH /api/experiment-runs/:id': r.experimentRun,
  'PATCH /api/experiments/:id/learned': r.experiment,
} satisfies { readonly [K in RouteName]: z.ZodType<Routes[K]['reply']> }
