import { z } from 'zod'
import {
  type Experiment,
  type ExperimentFactor,
  type ExperimentPlan,
  type ExperimentRun,
  RESPONSE_KINDS,
} from '../domain/experiment-record.ts'
import {
  type Addendum,
  type Annotation,
  BELIEFS,
  type Cycle,
  DATA_KINDS,
  DECISIONS,
  type Decision,
  FAILURE_COSTS,
  MEASURE_ROLES,
  type Measure,
  type Observation,
  type Person,
  type Phase,
  type Plan,
  type Prediction,
  type Project,
  type RampNote,
  READINESS,
  ROLES,
  SUGGESTIONS,
  type Trial,
  type Unit,
} from '../domain/record.ts'
import type { ChartKind, RuleSetId } from '../stats/types.ts'
import * as f from './fields.ts'

/** The records as requests and replies carry them; each is checked against its type below. */

export const role = z.enum(ROLES)
const origin = z.enum(['own', 'example'])

const CHART_KINDS = [
  'run',
  'individuals',
  'moving-range',
  'xbar-s',
  'xbar-r',
  'p',
  'p-prime',
  'c',
  'u',
  'u-prime',
  'g',
  't',
  'ewma',
  'cusum',
] as const satisfies readonly ChartKind[]
const RULE_SETS = [
  'run-classic',
  'run-length-adjusted',
  'shewhart-healthcare',
  'zone-tests',
  'eight-tests',
  'none',
] as const satisfies readonly RuleSetId[]

export const unit = z.strictObject({
  id: f.id,
  parentId: f.id.nullable(),
  name: f.name,
  origin,
  version: f.version,
}) satisfies z.ZodType<Unit>

export const person = z.strictObject({
  id: f.id,
  name: f.name,
  email: f.email.nullable(),
  role,
  closedAt: f.instant.nullable(),
  origin,
  version: f.version,
}) satisfies z.ZodType<Person>

export const project = z.strictObject({
  id: f.id,
  unitId: f.id,
  name: f.name,
  aim: f.text,
  leadId: f.id.nullable(),
  origin,
  createdAt: f.instant,
  version: f.version,
}) satisfies z.ZodType<Project>

export const measure = z.strictObject({
  id: f.id,
  projectId: f.id,
  name: f.name,
  role: z.enum(MEASURE_ROLES),
  dataKind: z.enum(DATA_KINDS),
  valueFormat: z.enum(['number', 'duration']),
  unitLabel: f.label,
  per: z.number().positive(),
  better: z.enum(['up', 'down']).nullable(),
  operationalDefinition: f.text,
  collectionPlan: f.text,
  goal: f.number.nullable(),
  chartKind: z.enum([...CHART_KINDS, 'auto']),
  ruleSet: z.enum([...RULE_SETS, 'auto']),
  unitId: f.id.nullable(),
  sameAsId: f.id.nullable(),
  version: f.version,
}) satisfies z.ZodType<Measure>

export const phase = z.strictObject({
  id: f.id,
  measureId: f.id,
  startsAt: f.date.nullable(),
  frozenThrough: f.date.nullable(),
  reason: f.text,
  cycleId: f.id.nullable(),
  version: f.version,
}) satisfies z.ZodType<Phase>

export const observation = z.strictObject({
  id: f.id,
  measureId: f.id,
  cycleId: f.id.nullable(),
  trialId: f.id.nullable(),
  at: f.moment,
  value: f.number.nullable(),
  numerator: f.number.nullable(),
  denominator: f.number.nullable(),
  note: f.text,
  leftOutReason: f.reason.nullable(),
  version: f.version,
}) satisfies z.ZodType<Observation>

export const annotation = z.strictObject({
  id: f.id,
  measureId: f.id,
  at: f.date,
  text: f.reason,
  version: f.version,
}) satisfies z.ZodType<Annotation>

export const rampNote = z.strictObject({
  id: f.id,
  projectId: f.id,
  rampId: f.id,
  text: f.text,
  version: f.version,
}) satisfies z.ZodType<RampNote>

export const plan = z.strictObject({
  title: f.name,
  question: f.text,
  change: f.text,
  who: f.text,
  where: f.text,
  plannedFrom: f.date.nullable(),
  plannedTo: f.date.nullable(),
  howMany: f.text,
  collection: f.text,
  belief: z.enum(BELIEFS).nullable(),
  failureCost: z.enum(FAILURE_COSTS).nullable(),
  readiness: z.enum(READINESS).nullable(),
  determination: z.enum(['improvement', 'research', 'exercise']).nullable(),
  approval: z.enum(['on-record', 'not-needed', 'not-yet']).nullable(),
  approvalNote: f.text,
  couldHarm: z.enum(['yes', 'no']).nullable(),
  stopRule: f.text,
  stopMeasureId: f.id.nullable(),
}) satisfies z.ZodType<Plan>

export const cycle = plan.extend({
  id: f.id,
  projectId: f.id,
  rampId: f.id,
  number: z.int().min(1),
  buildsOnId: f.id.nullable(),
  origin,
  createdAt: f.instant,
  lockedAt: f.instant.nullable(),
  lockedById: f.id.nullable(),
  ranFrom: f.date.nullable(),
  ranTo: f.date.nullable(),
  happened: f.text,
  wentWrong: f.text,
  surprises: f.text,
  doneAt: f.instant.nullable(),
  learned: f.text,
  predictionReview: f.text,
  studiedAt: f.instant.nullable(),
  version: f.version,
}) satisfies z.ZodType<Cycle>

export const prediction = z.strictObject({
  id: f.id,
  cycleId: f.id,
  measureId: f.id,
  expected: f.number.nullable(),
  low: f.number.nullable(),
  high: f.number.nullable(),
  confidence: f.confidence,
  why: f.text,
  version: f.version,
}) satisfies z.ZodType<Prediction>

export const addendum = z.strictObject({
  id: f.id,
  cycleId: f.id,
  predictionId: f.id.nullable(),
  text: f.reason,
  at: f.instant,
  byId: f.id,
}) satisfies z.ZodType<Addendum>

export const trial = z.strictObject({
  id: f.id,
  cycleId: f.id,
  number: z.int().min(1),
  at: f.instant,
  byId: f.id,
  note: f.text,
  voidReason: f.reason.nullable(),
  version: f.version,
}) satisfies z.ZodType<Trial>

export const suggestion = z.enum(SUGGESTIONS)
export const decision = z.strictObject({
  id: f.id,
  cycleId: f.id,
  kind: z.enum(DECISIONS),
  reason: f.text,
  nextChange: f.text,
  suggestedKind: suggestion.nullable(),
  suggestedReasons: f.text.nullable(),
  differsBecause: f.text.nullable(),
  at: f.instant,
  byId: f.id,
}) satisfies z.ZodType<Decision>

export const experimentPlan = z.strictObject({
  title: f.name,
  question: f.text,
  measureId: f.id.nullable(),
  response: f.text,
  responseKind: z.enum(RESPONSE_KINDS),
  unitLabel: f.label,
  better: z.enum(['up', 'down']).nullable(),
  conditions: f.text,
  generators: f.label.nullable(),
  replicates: z.int().min(1).max(4),
  centerPoints: z.int().min(0).max(6),
  guessedSd: z.number().positive().nullable(),
  determination: plan.shape.determination,
  approval: plan.shape.approval,
  approvalNote: f.text,
  couldHarm: plan.shape.couldHarm,
  stopRule: f.text,
  stopMeasureId: f.id.nullable(),
}) satisfies z.ZodType<ExperimentPlan>

export const experiment = experimentPlan.extend({
  id: f.id,
  projectId: f.id,
  origin,
  createdAt: f.instant,
  lockedAt: f.instant.nullable(),
  lockedById: f.id.nullable(),
  seed: z.int().min(0).nullable(),
  learned: f.text,
  version: f.version,
}) satisfies z.ZodType<Experiment>

export const experimentFactor = z.strictObject({
  id: f.id,
  experimentId: f.id,
  position: z.int().min(1),
  name: f.text,
  low: f.text,
  high: f.text,
  middle: f.text,
  expected: f.number.nullable(),
  why: f.text,
  version: f.version,
}) satisfies z.ZodType<ExperimentFactor>

export const experimentRun = z.strictObject({
  id: f.id,
  experimentId: f.id,
  position: z.int().min(1),
  levels: z.string(),
  response: f.number.nullable(),
  at: f.instant.nullable(),
  byId: f.id.nullable(),
  note: f.text,
  leftOutReason: f.reason.nullable(),
  version: f.version,
}) satisfies z.ZodType<ExperimentRun>
