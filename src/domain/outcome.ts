import { stageOf } from './cycle.ts'
import type {
  Cycle,
  DateText,
  Decision,
  Measure,
  Observation,
  Phase,
  Prediction,
} from './record.ts'
import { compareMoments } from './series.ts'

/** Some observations of one measure, taken together. */
export interface Summary {
  /** Observations that count. */
  readonly n: number
  /** In the chart's unit: pooled share or rate, mean of values, mean count; `null` when n is 0. */
  readonly value: number | null
  /** Totals, for classified data and rates. */
  readonly numerator: number | null
  readonly denominator: number | null
  /** Dates of the first and the last. */
  readonly from: DateText | null
  readonly to: DateText | null
}

/** Where the outcome lies: against the range, in words of the measure's better direction. */
export type Verdict = 'inside' | 'better' | 'worse' | 'above' | 'below'

/** A locked prediction held against what the test observed. */
export interface PredictionOutcome {
  readonly measure: Measure
  readonly prediction: Prediction
  readonly outcome: Summary
  /** `null` while nothing was observed. `above` and `below` where neither direction is better. */
  readonly verdict: Verdict | null
  /** Outcome ÷ expected for durations and rates, outcome − expected otherwise; `null` if undefined. */
  readonly error: { readonly kind: 'ratio' | 'difference'; readonly value: number } | null
  /** The measure before the test began: its phase then, up to where it is frozen. */
  readonly before: Summary
  /** The test this one builds on, where it predicted the same measure. */
  readonly previous: { readonly number: number; readonly outcome: Summary } | null
  /** Observations dated before the prediction was locked: it can then be hindsight. */
  readonly datedBeforeLock: number
}

/**
 * The observations of one measure that belong to a test of change: those collected for it, and those
 * dated within the days it ran.
 *
 * @returns Empty before the lock; left-out observations and those of other tests never count.
 */
export function observationsOfTest(
  cycle: Cycle,
  observations: readonly Observation[],
): Observation[] {
  if (cycle.lockedAt === null) return []
  const { ranFrom, ranTo } = cycle
  return observations.filter((o) => {
    if (o.leftOutReason !== null) return false
    if (o.cycleId !== null) return o.cycleId === cycle.id
    const day = o.at.slice(0, 10)
    return ranFrom !== null && day >= ranFrom && (ranTo === null || day <= ranTo)
  })
}

/**
 * Observations taken together: shares and rates pooled (Σ numerators ÷ Σ denominators), everything
 * else averaged.
 *
 * @param measure `per` scales rates.
 */
export function summarize(
  measure: Pick<Measure, 'dataKind' | 'per'>,
  observations: readonly Observation[],
): Summary {
  const pooled = measure.dataKind === 'classified' || measure.dataKind === 'rates'
  let n = 0
  let total = 0
  let area = 0
  let from: string | null = null
  let to: string | null = null
  for (const o of observations) {
    const amount = pooled ? o.numerator : o.value
    const share = pooled ? o.denominator : 1
    if (o.leftOutReason !== null || amount === null || share === null || share === 0) continue
    n++
    total += amount
    area += share
    const day = o.at
    if (from === null || compareMoments(day, from) < 0) from = day
    if (to === null || compareMoments(day, to) > 0) to = day
  }
  const scale = measure.dataKind === 'rates' ? measure.per : 1
  return {
    n,
    value: area > 0 ? (total / area) * scale : null,
    numerator: pooled && n > 0 ? total : null,
    denominator: pooled && n > 0 ? area : null,
    from: from?.slice(0, 10) ?? null,
    to: to?.slice(0, 10) ?? null,
  }
}

/**
 * Where an outcome lies against a prediction's range; a value on an end of the range is inside it.
 *
 * @returns `null` when outcome or range is missing.
 */
export function verdictOf(
  prediction: Pick<Prediction, 'low' | 'high'>,
  better: Measure['better'],
  outcome: number | null,
): Verdict | null {
  const { low, high } = prediction
  if (outcome === null || low === null || high === null) return null
  // 3 of 4 and 0.75 must meet although they were reached by different sums.
  const slack = 1e-9 * Math.max(Math.abs(low), Math.abs(high), Math.abs(outcome))
  if (outcome >= low - slack && outcome <= high + slack) return 'inside'
  const side = outcome > high ? 'up' : 'down'
  if (better === null) return side === 'up' ? 'above' : 'below'
  return side === better ? 'better' : 'worse'
}

/**
 * Every prediction of a test held against what the test observed (METHODS 5, item 1), balancing
 * measures first where they came out worse.
 *
 * @param siblings Every test of the project with its predictions: the one built on is among them.
 */
export function outcomesOf(
  test: { readonly cycle: Cycle; readonly predictions: readonly Prediction[] },
  measures: readonly {
    readonly measure: Measure
    readonly observations: readonly Observation[]
    readonly phases: readonly Phase[]
  }[],
  siblings: readonly {
    readonly cycle: Cycle
    readonly predictions: readonly Prediction[]
    readonly decision: Decision | null
  }[],
): PredictionOutcome[] {
  const { cycle } = test
  const outcomes = test.predictions.flatMap((prediction) => {
    const data = measures.find((m) => m.measure.id === prediction.measureId)
    if (data === undefined) return []
    const { measure, observations, phases } = data
    const own = observationsOfTest(cycle, observations)
    const outcome = summarize(measure, own)
    return {
      measure,
      prediction,
      outcome,
      verdict: verdictOf(prediction, measure.better, outcome.value),
      error: errorOf(measure, prediction, outcome.value),
      before: summarize(measure, baselineBefore(cycle, observations, phases)),
      previous: previousOutcome(cycle, data, siblings),
      datedBeforeLock: own.filter((o) => o.at.slice(0, 10) < (cycle.lockedAt ?? '').slice(0, 10))
        .length,
    }
  })
  const harm = (o: PredictionOutcome) =>
    o.measure.role === 'balancing' && o.verdict === 'worse' ? 0 : 1
  return outcomes.sort((a, b) => harm(a) - harm(b))
}

/** Outcome against what was expected: a ratio for durations and rates, a difference otherwise. */
export function errorOf(
  measure: Measure,
  prediction: Prediction,
  outcome: number | null,
): PredictionOutcome['error'] {
  const { expected } = prediction
  if (outcome === null || expected === null) return null
  const ratio = measure.valueFormat === 'duration' || measure.dataKind === 'rates'
  if (!ratio) return { kind: 'difference', value: outcome - expected }
  return expected > 0 ? { kind: 'ratio', value: outcome / expected } : null
}

/** Observations of the phase that ran when the test began, before it began. */
export function baselineBefore(
  cycle: Cycle,
  observations: readonly Observation[],
  phases: readonly Phase[],
): Observation[] {
  const began = cycle.ranFrom
  if (began === null) return []
  const phase = phases
    .filter((p) => p.startsAt === null || p.startsAt < began)
    .sort((a, b) => ((a.startsAt ?? '') < (b.startsAt ?? '') ? -1 : 1))
    .at(-1)
  return observations.filter((o) => {
    const day = o.at.slice(0, 10)
    const frozen = phase?.frozenThrough ?? null
    return (
      day < began &&
      o.cycleId !== cycle.id &&
      (phase === undefined || phase.startsAt === null || day >= phase.startsAt) &&
      (frozen === null || day <= frozen)
    )
  })
}

function previousOutcome(
  cycle: Cycle,
  data: { readonly measure: Measure; readonly observations: readonly Observation[] },
  siblings: Parameters<typeof outcomesOf>[2],
): PredictionOutcome['previous'] {
  const before = siblings.find((s) => s.cycle.id === cycle.buildsOnId)
  if (before === undefined || stageOf(before.cycle, before.decision) === 'plan') return null
  if (!before.predictions.some((p) => p.measureId === data.measure.id)) return null
  const outcome = summarize(data.measure, observationsOfTest(before.cycle, data.observations))
  return outcome.n > 0 ? { number: before.cycle.number, outcome } : null
}
