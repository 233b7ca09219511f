import type { Cycle, Decision, Id, Plan, Prediction } from './record.ts'

/**
 * A new, unlocked test of change; with `from` it builds on that test and carries its plan over.
 *
 * Carried over: everything planned but the dates, which belong to the test that ran, and the
 * approval, which is asked afresh where the change is a different one (an adapt decision).
 *
 * @param made Id, project, number within the project, title, moment, origin.
 * @param from The test it builds on, and that test's decision; `null` for the first of a ramp.
 */
export function openCycle(
  made: Pick<Cycle, 'id' | 'projectId' | 'number' | 'title' | 'createdAt' | 'origin'>,
  from: { cycle: Cycle; decision: Decision | null } | null,
): Cycle {
  const nextChange = from?.decision?.kind === 'adapt' ? from.decision.nextChange : null
  const plan: Plan = {
    ...(from === null ? EMPTY_PLAN : planOf(from.cycle)),
    title: made.title,
    plannedFrom: null,
    plannedTo: null,
  }
  return {
    ...plan,
    // The team already said what it will change; it starts there, and edits.
    change: nextChange === null ? plan.change : `${plan.change}\n\n${nextChange}`.trim(),
    approval: nextChange === null ? plan.approval : null,
    id: made.id,
    projectId: made.projectId,
    rampId: from?.cycle.rampId ?? made.id,
    number: made.number,
    buildsOnId: from?.cycle.id ?? null,
    origin: made.origin,
    createdAt: made.createdAt,
    lockedAt: null,
    lockedById: null,
    ranFrom: null,
    ranTo: null,
    happened: '',
    wentWrong: '',
    surprises: '',
    doneAt: null,
    learned: '',
    predictionReview: '',
    studiedAt: null,
    version: 1,
  }
}

/**
 * Predictions for the next test, one for each the test before had: same measure, confidence and
 * values as a starting point, but no reason, since each test says afresh why.
 *
 * @param ids One fresh id for each prediction, in order.
 */
export function carryPredictions(
  predictions: readonly Prediction[],
  cycleId: Id,
  ids: readonly Id[],
): Prediction[] {
  return predictions.map((p, i) => ({ ...p, id: ids[i]!, cycleId, why: '', version: 1 }))
}

/** The planned part of a cycle. */
function planOf(cycle: Cycle): Plan {
  const plan: Partial<Record<keyof Plan, unknown>> = {}
  for (const key of PLAN_FIELDS) plan[key] = cycle[key]
  return plan as unknown as Plan
}

export interface PlanDifference {
  readonly field: keyof Plan
  readonly was: string | null
  readonly is: string | null
}

/**
 * What a plan changed against the test it builds on, field by field in page order; the title and
 * the dates always differ and are left out.
 */
export function planDifferences(before: Plan, after: Plan): PlanDifference[] {
  return PLAN_FIELDS.filter((f) => !ALWAYS_DIFFERENT.has(f) && before[f] !== after[f]).map((f) => ({
    field: f,
    was: before[f],
    is: after[f],
  }))
}

export interface PredictionDifference {
  readonly measureId: Id
  /** `null`: this measure was not predicted on that side. */
  readonly was: Prediction | null
  readonly is: Prediction | null
}

/** Measures whose expected value, range or confidence differ between two tests, or are new or gone. */
export function predictionDifferences(
  before: readonly Prediction[],
  after: readonly Prediction[],
): PredictionDifference[] {
  const ids = new Set([...before, ...after].map((p) => p.measureId))
  return [...ids]
    .map((measureId) => ({
      measureId,
      was: before.find((p) => p.measureId === measureId) ?? null,
      is: after.find((p) => p.measureId === measureId) ?? null,
    }))
    .filter(
      ({ was, is }) =>
        was?.expected !== is?.expected ||
        was?.low !== is?.low ||
        was?.high !== is?.high ||
        was?.confidence !== is?.confidence,
    )
}

/** Every field of a plan, in the order of the page. */
export const PLAN_FIELDS = [
  'title',
  'question',
  'change',
  'who',
  'where',
  'plannedFrom',
  'plannedTo',
  'howMany',
  'collection',
  'belief',
  'failureCost',
  'readiness',
  'determination',
  'approval',
  'approvalNote',
  'couldHarm',
  'stopRule',
  'stopMeasureId',
] as const satisfies readonly (keyof Plan)[]

const ALWAYS_DIFFERENT: ReadonlySet<keyof Plan> = new Set(['title', 'plannedFrom', 'plannedTo'])

const EMPTY_PLAN: Plan = {
  title: '',
  question: '',
  change: '',
  who: '',
  where: '',
  plannedFrom: null,
  plannedTo: null,
  howMany: '',
  collection: '',
  belief: null,
  failureCost: null,
  readiness: null,
  determination: null,
  approval: null,
  approvalNote: '',
  couldHarm: null,
  stopRule: '',
  stopMeasureId: null,
}
