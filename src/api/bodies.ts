import { z } from 'zod'
import type { RouteName, Routes } from './contract.ts'
import * as f from './fields.ts'
import * as r from './records.ts'
import { workshopBodies } from './workshop-bodies.ts'

type BodyOf<K extends RouteName> = Routes[K] extends { body: infer B } ? B : never
type RouteWithBody = {
  [K in RouteName]: Routes[K] extends { body: unknown } ? K : never
}[RouteName]

const onVersion = z.strictObject({ version: f.version })

/** A shape in which every field may be left out: those left out stay as they are. */
function someOf<S extends z.ZodRawShape>(shape: S) {
  const optional = Object.fromEntries(
    Object.entries(shape).map(([key, field]) => [key, z.exactOptional(field)]),
  )
  return optional as { [K in keyof S]: z.ZodExactOptional<S[K] & z.core.SomeType> }
}

const doFields = r.cycle.pick({
  ranFrom: true,
  ranTo: true,
  happened: true,
  wentWrong: true,
  surprises: true,
}).shape
const studyFields = r.cycle.pick({ learned: true, predictionReview: true }).shape
const saveObservation = r.observation
  .omit({ measureId: true, version: true })
  .extend({ version: z.exactOptional(f.version) })
const column = z.exactOptional(z.string().max(200))
const importRequest = z.strictObject({
  text: z.string(),
  columns: z.exactOptional(
    z.strictObject({
      at: column,
      value: column,
      numerator: column,
      denominator: column,
      note: column,
    }),
  ),
  dateOrder: z.exactOptional(z.enum(['day-first', 'month-first'])),
})

const unitFields = r.unit.pick({ name: true, parentId: true }).shape
const personFields = r.person.pick({ name: true, email: true, role: true, closedAt: true }).shape
const projectFields = r.project.pick({ unitId: true, name: true, aim: true, leadId: true }).shape
const measureFields = r.measure.omit({ id: true, projectId: true, version: true }).shape
const phaseFields = r.phase.omit({ id: true, measureId: true, version: true }).shape
const annotationFields = r.annotation.omit({ id: true, measureId: true, version: true }).shape

/** What each route takes, as the contract says it. */
export const bodies = {
  'POST /api/owner': z.strictObject({ name: f.name, email: f.email, password: f.password }),
  'POST /api/session': z.strictObject({
    email: z.string().trim().toLowerCase().max(254),
    password: f.password,
  }),
  'POST /api/password': z.strictObject({ current: f.password, next: f.password }),
  'POST /api/people': z.strictObject({
    id: f.id,
    name: f.name,
    email: f.email,
    role: r.role,
    password: f.password,
  }),
  'PATCH /api/people/:id': onVersion.extend({
    ...someOf(personFields),
    password: z.exactOptional(f.password),
  }),
  'POST /api/units': r.unit.pick({ id: true, name: true, parentId: true }),
  'PATCH /api/units/:id': onVersion.extend(someOf(unitFields)),
  'DELETE /api/units/:id': onVersion,
  'POST /api/projects': r.project.pick({ id: true, unitId: true, name: true, aim: true }),
  'PATCH /api/projects/:id': onVersion.extend(someOf(projectFields)),
  'POST /api/measures': r.measure.omit({ version: true }).extend({
    unitId: z.exactOptional(r.measure.shape.unitId),
    sameAsId: z.exactOptional(r.measure.shape.sameAsId),
  }),
  'PATCH /api/measures/:id': onVersion.extend(someOf(measureFields)),
  'POST /api/measures/:id/observations': z.strictObject({
    save: z.array(saveObservation).max(10_000),
    remove: z.array(z.strictObject({ id: f.id, version: f.version })).max(10_000),
  }),
  'POST /api/measures/:id/import/preview': importRequest,
  'POST /api/measures/:id/import': importRequest.extend({
    duplicates: z.enum(['refuse', 'skip', 'replace']),
  }),
  'POST /api/phases': r.phase.omit({ version: true }),
  'PATCH /api/phases/:id': onVersion.extend(someOf(phaseFields)),
  'DELETE /api/phases/:id': onVersion,
  'POST /api/annotations': r.annotation.omit({ version: true }),
  'PATCH /api/annotations/:id': onVersion.extend(someOf(annotationFields)),
  'DELETE /api/annotations/:id': onVersion,
  'PUT /api/ramps/:id/note': r.rampNote
    .pick({ id: true, text: true })
    .extend({ version: f.version.nullable() }),
  'POST /api/cycles': r.cycle.pick({ id: true, projectId: true, title: true, buildsOnId: true }),
  'PATCH /api/cycles/:id/plan': onVersion.extend(someOf(r.plan.shape)),
  'PUT /api/cycles/:id/predictions/:predictionId': r.prediction
    .omit({ id: true, cycleId: true, version: true })
    .extend({ version: f.version.nullable() }),
  'DELETE /api/cycles/:id/predictions/:predictionId': onVersion,
  'POST /api/cycles/:id/lock': onVersion,
  'POST /api/cycles/:id/addenda': r.addendum.pick({ id: true, predictionId: true, text: true }),
  'PATCH /api/cycles/:id/do': onVersion.extend(someOf(doFields)),
  'POST /api/cycles/:id/trials': z.strictObject({
    id: f.id,
    at: f.instant,
    note: f.text,
    observations: z
      .array(r.observation.omit({ trialId: true, cycleId: true, version: true }))
      .max(100),
  }),
  'PATCH /api/trials/:id': onVersion.extend(
    someOf(r.trial.pick({ note: true, voidReason: true }).shape),
  ),
  'POST /api/cycles/:id/done': onVersion,
  'PATCH /api/cycles/:id/study': onVersion.extend(someOf(studyFields)),
  'POST /api/cycles/:id/studied': onVersion,
  'POST /api/cycles/:id/decision': r.decision
    .pick({ id: true, kind: true, reason: true, nextChange: true })
    .extend({ differsBecause: z.exactOptional(f.text), nextId: f.id, version: f.version }),
  ...workshopBodies,
  'POST /api/experiments': r.experiment.pick({ id: true, projectId: true, title: true }),
  'PATCH /api/experiments/:id/plan': onVersion.extend(someOf(r.experimentPlan.shape)),
  'DELETE /api/experiments/:id': onVersion,
  'PUT /api/experiments/:id/factors/:factorId': r.experimentFactor
    .omit({ id: true, experimentId: true, position: true, version: true })
    .extend({ version: f.version.nullable() }),
  'DELETE /api/experiments/:id/factors/:factorId': onVersion,
  'POST /api/experiments/:id/lock': onVersion,
  'PATCH /api/experiment-runs/:id': onVersion.extend(
    someOf(r.experimentRun.pick({ response: true, note: true, leftOutReason: true }).shape),
  ),
  'PATCH /api/experiments/:id/learned': onVersion.extend({ learned: f.text }),
} satisfies { readonly [K in RouteWithBody]: z.ZodType<BodyOf<K>> }
